"""Which qualification of people an operation needs, and who holds it."""

from __future__ import annotations

from weld_packets.units import Plain


class Holder(Plain):
    """Somebody by number, with duties and dates; ``confirmed`` is empty where no confirmation is stated."""

    number: str
    duties: tuple[str, ...]
    tested: str
    valid_until: str
    confirmed: str = ""
    document: str = ""


class People(Plain):
    """What an operation needs of its setter and operator, and who holds it.

    ``kept`` is no where the plant keeps no table of them; then there are no holders.
    """

    needs: str
    kept: bool
    holders: tuple[Holder, ...] = ()
    source: str = ""

    @property
    def setters(self) -> tuple[Holder, ...]:
        """Return who may set up, whatever the day."""
        return tuple(each for each in self.holders if "setter" in each.duties)

    def valid_on(self, day: str, duty: str) -> tuple[Holder, ...]:
        """Return who may do a duty on a day, as year-month-day."""
        return tuple(each for each in self.holders if duty in each.duties and each.valid_until >= day)
