"""``stock``: how boards are cut from sticks, as text or as data."""

from .data import stock_data
from .planned import Read, Stock, plan_or_why, plan_stock
from .words import proof, stock_text

__all__ = ["Read", "Stock", "plan_or_why", "plan_stock", "proof", "stock_data", "stock_text"]
