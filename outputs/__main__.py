"""``python -m collarwright.outputs``."""

from .cli import main

main()
