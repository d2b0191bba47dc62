"""What must be known of the gas side beside an advice: the caution, and what was computed how.

Not here: what plugging costs (``sections.plugging``), all that is assumed (``plugging_json``).
"""

from fieldapp.report.numbers import ConditionNumbers
from model.decision.gas.gas_inputs import ASSUMED_OF_EVERY_BOILER
from model.thermal.plugging_cost import RETUNE_CAUTION


def gas_side_remarks(numbers: ConditionNumbers) -> tuple[str, ...]:
    """In sentences, the caution first: it holds whatever the figures say, and without any too.

    What is assumed of every boiler is left out; of retarders taken as plain tubes, of what was
    estimated and of slow gas it tells.
    """
    gas = numbers.gas_side
    if gas.why_not is not None:
        return (RETUNE_CAUTION, gas.why_not)
    own = (each for each in gas.remarks if each not in ASSUMED_OF_EVERY_BOILER)
    return (RETUNE_CAUTION, *own)
