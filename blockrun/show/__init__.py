"""Plans, orders and mixes as text for a screen of any width; nothing here prints."""

from blockrun.show.card import cards_text
from blockrun.show.days import days_text
from blockrun.show.findings import findings_text
from blockrun.show.summary import summary_text
from blockrun.show.takeoff import takeoff_text

__all__ = ["cards_text", "days_text", "findings_text", "summary_text", "takeoff_text"]
