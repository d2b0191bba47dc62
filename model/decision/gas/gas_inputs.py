"""What the fit of the gas side needs, put together from a boiler's record.

Not here: reading the figures (``gas_record``), the fit to the stack (``gas_side``), the heat
(``model.thermal``).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.stored_figures import shown
from model.condition.tubes import TubeCondition
from model.decision.gas.gas_record import GasRecord, GasSideNotKnown
from model.record.words import BoilerKind, State
from model.thermal.gas_side_as_built import SHELL_LOSS_PERCENT, GasSide, Measured
from model.thermal.output_limit import Pressures
from model.thermal.steam import saturation_temperature_c

ASSUMED_OF_EVERY_BOILER: Final = (
    "The stack temperature is taken as read at the firing of output_kw, the heat to the water, "
    "with the tubes plugged as found in this inspection: what was plugged in this outage came "
    "after it.",
    f"The shell is taken to lose {SHELL_LOSS_PERCENT:g} % of the fuel's heat at that firing "
    "(common practice).",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class GasInputs:
    """Everything that the fit needs, as recorded."""

    built: GasSide
    measured: Measured
    pressures: Pressures | None
    remarks: tuple[str, ...]
    """What was assumed on the way."""


def gas_inputs(facts: BoilerFacts, tubes: Sequence[TubeCondition]) -> GasInputs:
    """The gas side as recorded.

    Raises: GasSideNotKnown naming everything that is missing, or why the model does not apply.
    """
    if facts.kind not in (BoilerKind.WET_BACK, BoilerKind.DRY_BACK):
        raise GasSideNotKnown(
            "it is worked out for horizontal fire-tube steam boilers alone, wet-back or dry-back; "
            f"the kind of this boiler is {shown(facts.kind)}."
        )
    if not tubes:
        raise GasSideNotKnown("the layout has no tubes.")
    record = GasRecord(facts=facts, tubes=tubes)
    passes = record.passes()
    pressure_mpa = record.steam_pressure_mpa()
    fuel, exit_c = record.fuel(), record.optional("furnace_exit_c")
    output_kw, oxygen_percent = record.needed("output_kw"), record.needed("oxygen_percent")
    stack_c, air_c = record.needed("stack_c"), record.needed("air_c")
    surface_m2 = None if exit_c is not None else record.furnace_surface_m2(passes)
    pressures = record.pressures()
    record.refuse_if_missing()
    # Nothing is missing, so every needed figure is there.
    assert fuel is not None
    assert pressure_mpa is not None
    measured = Measured(
        fuel=fuel,
        output_kw=output_kw,
        oxygen_percent=oxygen_percent,
        stack_c=stack_c,
        air_c=air_c,
        furnace_exit_c=exit_c,
        plugged=plugged_by_pass(tubes, as_left=False),
    )
    built = GasSide(
        passes=passes,
        saturation_c=saturation_temperature_c(pressure_mpa=pressure_mpa),
        furnace_surface_m2=surface_m2,
    )
    remarks = (*_how_measured(tubes), *record.remarks)
    return GasInputs(built=built, measured=measured, pressures=pressures, remarks=remarks)


def plugged_by_pass(tubes: Sequence[TubeCondition], *, as_left: bool) -> dict[int, int]:
    """Plugged tubes of each pass, as left or as found; 0 where there are none."""
    counts = {each.tube.pass_: 0 for each in tubes}
    for each in tubes:
        status = each.left if as_left else each.found
        counts[each.tube.pass_] += status.state is State.PLUGGED
    return dict(sorted(counts.items()))


def _how_measured(tubes: Sequence[TubeCondition]) -> list[str]:
    """What is assumed of every boiler, and of the tubes that nobody looked at."""
    said = [*ASSUMED_OF_EVERY_BOILER]
    unseen = sum(each.is_unseen for each in tubes)
    if unseen:
        said.append(
            f"{unseen} tubes that nobody looked at count as open."
            if unseen > 1
            else "The tube that nobody looked at counts as open."
        )
    return said
