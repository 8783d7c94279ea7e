"""How foam panels are cut from sheets, as text or as data."""

from .data import foam_data
from .planned import Foam, plan_foam
from .words import foam_text

__all__ = ["Foam", "foam_data", "foam_text", "plan_foam"]
