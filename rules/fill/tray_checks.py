"""The limits of NFPA 70 392.22 as inequalities, and which of them come into question for the cables of a tray."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from checker.model import CarrierKind, LoadedCompartment
from checker.model.texts import told_apart
from checker.rule import Limit, Outcome, Table
from checker.units import MM_PER_INCH
from rules.fill.tray_limits import LayerLimits, table_area_mm2
from rules.fill.tray_rows import FROM_250, FROM_1000, Row, is_at_least

#: So that what equals its limit on paper isn't failed by the last bit of a float; a share.
EXACTLY = 1e-9
#: An outside width is what a tray is called by as long as its inside isn't narrower by more than this: sides of sheet metal.
SIDES_MM = 10.0


@dataclass(frozen=True, slots=True)
class Check:
    """One inequality: what is used, from ``least`` to ``most``, of what is ``allowed``; all in mm, or in mm² where ``is_area``.

    ``whole``: the inside that both are told as shares of. ``allowed`` None: the table has nothing for that width.
    """

    what: str
    least: float
    most: float
    allowed: float | None
    whole: float
    is_area: bool
    limit: Limit

    @property
    def outcome(self) -> Outcome:
        """Fail where the least is too much, pass where the most isn't."""
        if self.allowed is None:
            return Outcome.UNKNOWN
        allowed = self.allowed * (1.0 + EXACTLY)
        if self.least > allowed:
            return Outcome.FAIL
        return Outcome.PASS if self.most <= allowed else Outcome.UNKNOWN

    @property
    def used(self) -> float:
        """What to show for it: of a pass the most, else the least."""
        return self.most if self.outcome is Outcome.PASS else self.least

    @property
    def share(self) -> float:
        """The used part of what is allowed."""
        return self.used / self.allowed if self.allowed else math.inf

    def told(self) -> str:
        """As words with figures."""
        unit = "mm²" if self.is_area else "mm"
        if self.allowed is None:
            return f"{self.what}: the code's table has no such width"
        if self.outcome is Outcome.UNKNOWN:
            up_to = f"{self.least:.1f} to {self.most:.1f}"
            span = up_to if math.isfinite(self.most) else f"at least {self.least:.1f}"
            return f"{self.what}: {span} {unit}, against {self.allowed:.1f} {unit}"
        used, allowed = told_apart(self.used, self.allowed, is_over=self.outcome is Outcome.FAIL)
        relation = "over" if self.outcome is Outcome.FAIL else "within"
        return f"{self.what}: {used} {unit}, {relation} {allowed} {unit}"


#: All of its checks must hold.
Branch = tuple[Check, ...]


@dataclass(frozen=True, slots=True)
class Tray:
    """A compartment in one reading of its bottom and of its width; ``outside_mm`` None: it goes by its inside."""

    width_mm: float
    area_mm2: float
    outside_mm: float | None
    is_solid: bool
    limits: LayerLimits

    @property
    def _bottom(self) -> str:
        return " on a solid bottom" if self.is_solid else ""

    def control(self, rows: Sequence[Row]) -> Branch:
        """Control and signal cables only, by area."""
        limit = self.limits.control_solid if self.is_solid else self.limits.control_ventilated
        depth = min(self.area_mm2 / self.width_mm, self.limits.control_depth_mm.value)
        used = sum(row.area_mm2 for row in rows)
        allowed = limit.value * self.width_mm * depth
        what = f"control and signal cables only{self._bottom}"
        return (Check(what, used, used, allowed, self.area_mm2, is_area=True, limit=limit),)

    def large(self, rows: Sequence[Row]) -> Branch:
        """Multiconductor cables of 4/0 AWG and larger, side by side."""
        limit = self.limits.large_solid if self.is_solid else self.limits.large_ventilated
        return (self._across("4/0 AWG and larger side by side", rows, rows, limit),)

    def mixed(self, rows: Sequence[Row]) -> Branch:
        """Multiconductor cables of which some are smaller than 4/0 AWG, by area; the large ones in one layer."""
        limits = self.limits
        beside, limit = (
            (limits.beside_solid, limits.small_solid)
            if self.is_solid
            else (limits.beside_ventilated, limits.small_ventilated)
        )
        perhaps, surely = [row for row in rows if row.is_large is not False], [row for row in rows if row.is_large]
        what = (
            "smaller than 4/0 AWG"
            if not perhaps
            else f"smaller than 4/0 AWG, with {beside.value:g} in² an inch of larger"
        )
        table = self._by_table(what, rows, limits.multiconductor, beside, limit, lambda row: row.is_large)
        layer = self._across("4/0 AWG and larger in one layer", surely, perhaps, limits.one_layer)
        return (table, layer) if perhaps else (table,)

    def single_width(self, rows: Sequence[Row]) -> Branch:
        """Single conductors side by side."""
        return (self._across("single conductors side by side", rows, rows, self.limits.single_width),)

    def single_area(self, rows: Sequence[Row]) -> Branch:
        """Single conductors of 250 kcmil and larger, by area."""
        limits = self.limits
        thick = any(is_at_least(row, FROM_1000) for row in rows)
        what = f", with {limits.single_beside.value:g} in² an inch of larger" if thick else ""
        return (
            self._by_table(
                f"single conductors of 250 to 900 kcmil{what}", rows, limits.single, limits.single_beside,
                limits.single_area, lambda row: is_at_least(row, FROM_1000),
            ),
        )  # fmt: skip

    def _across(self, what: str, surely: Sequence[Row], perhaps: Sequence[Row], limit: Limit) -> Check:
        least = sum(row.across_mm for row in surely)
        most = sum(row.across_mm if row.is_across_known else math.inf for row in perhaps)
        what += self._bottom
        return Check(what, least, most, limit.value * self.width_mm, self.width_mm, is_area=False, limit=limit)

    def _by_table(
        self, what: str, rows: Sequence[Row], table: Table, beside: Limit, limit: Limit, is_thick: Callable[[Row], bool | None],
    ) -> Check:  # fmt: skip
        """Areas of the thin and so much for each inch of the thick, against the table's area for the width.

        The code takes the part of the thick off the allowed area; here it stands on the other side, so that nothing allowed gets negative.
        """
        least = most = 0.0
        for row in rows:
            thick = beside.value * MM_PER_INCH * row.across_mm
            thick_most = thick if row.is_across_known else math.inf
            is_so = is_thick(row)
            least += min(row.area_mm2, thick) if is_so is None else thick if is_so else row.area_mm2
            most += max(row.area_mm2, thick_most) if is_so is None else thick_most if is_so else row.area_mm2
        column = "solid_in2" if self.is_solid else "ventilated_in2"
        area = table_area_mm2(table, column, self.width_mm, self.outside_mm)
        return Check(
            what + self._bottom,
            least,
            most,
            None if area is None else limit.value * area,
            self.area_mm2,
            is_area=True,
            limit=limit,
        )

    def asked(self, rows: Sequence[Row], *, is_single: bool, wider: bool = False, fewer: bool = False) -> list[Branch]:
        """The branches that may apply to cables of one sort, by what they are.

        Args:
            rows: The cables.
            is_single: Whether they are single conductors.
            wider: Besides, those that may apply when others lie with them.
            fewer: Besides, those that may apply when some of them are missing, each asked of the cables that it is for.
        """
        return (self._of_single if is_single else self._of_multiconductor)(rows, wider=wider, fewer=fewer)

    def _of_multiconductor(self, rows: Sequence[Row], *, wider: bool, fewer: bool) -> list[Branch]:
        signals = [row for row in rows if row.is_signal is not False]
        larges = [row for row in rows if row.is_large is not False]
        found = []
        if signals and (fewer or len(signals) == len(rows)):
            found.append(self.control(signals))
        if all(row.is_signal for row in rows) and not wider:
            return found
        if larges and (fewer or len(larges) == len(rows)):
            found.append(self.large(larges))
        if len(rows) == 1 and rows[0].is_across_known and not (wider or fewer or rows[0].is_large):
            found.append(self.mixed([replace(rows[0], is_large=False)]))  # cables of one row are of one size
        elif wider or not all(row.is_large for row in rows):
            found.append(self.mixed(rows))
        return found

    def _of_single(self, rows: Sequence[Row], *, wider: bool, fewer: bool) -> list[Branch]:
        bulk = [row for row in rows if is_at_least(row, FROM_250)]
        has_thin, all_thick = len(bulk) < len(rows), all(is_at_least(row, FROM_1000) for row in rows)
        found = [self.single_width(rows)] if has_thin or all_thick or wider or fewer else []
        if (not has_thin and (wider or not all_thick)) or (fewer and bulk):
            found.append(self.single_area(bulk))
        return found


def trays(subject: LoadedCompartment, limits: LayerLimits) -> list[Tray]:
    """A compartment of known inside in each reading of its bottom and its width.

    A tray of which nothing is declared may be ventilated or solid. One that is called by its outside width may go by its inside.
    """
    section, perforated = subject.carrier.section, subject.carrier.laying.perforated
    width, area = subject.width_mm or 0.0, subject.area_mm2 or 0.0
    outside = section.width_mm if len(section.lanes) == 1 else None
    if outside is not None and outside - width > SIDES_MM:
        outside = None
    is_open = subject.carrier.kind is CarrierKind.LADDER
    bottoms = [False] if is_open else [False, True] if perforated is None else [not perforated]
    widths = [outside]
    for table in (limits.multiconductor, limits.single):
        called, inside = (table_area_mm2(table, "ventilated_in2", width, by) for by in (outside, None))
        if called != inside:
            widths = [outside, None]
    return [Tray(width, area, by, is_solid, limits) for is_solid in bottoms for by in widths]
