"""``python -m collarwright.outputs``."""

from .start import main

main()
