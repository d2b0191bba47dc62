"""What the money of the options takes for granted, in sentences.

Not here: what a single option assumes (``options``).
"""

from typing import Final

from model.decision.situation import LeakRisk, Situation

_FUEL: Final = (
    "Fuel is what plugs add against the same boiler with none; all other fuel is the same for "
    "every option and left out."
)
_STOPS: Final = (
    "A lost tube takes two plugs, and a leaking joint is re-rolled. One that comes between outages "
    "stops the boiler and costs a forced outage of its own; one that is found when the boiler is "
    "down anyway costs its own work alone. What the standby covers of the output needed is no lost "
    "production."
)
_WHAT_IS_A_STOP: Final = (
    "The fewer the record holds, the less is known of the share; with none, half of them are taken "
    "to stop the boiler. A dated leak or plug between inspections and what a leak call found are "
    "taken for stops, and so is a joint that was re-rolled between inspections (ours)."
)
_OTHERS: Final = (
    "Coming leaks follow the record of leaks of each pass, whatever caused them: cracks are in it, "
    "and no wall reading tells of cracks. New tubes start anew where the growth with age is known, "
    "and get no credit where it is not. New joints leak as often as old ones.",
    "A pass beyond its limit out of service is retubed at the next planned outage; where the "
    "output needed is not reached, the pass with most plugs, if the fan would reach it with every "
    "tube open. Passes retubed at one outage share its set-up, opening and closing, pressure test, "
    "inspector, cleaning and freight.",
    "A new boiler loses tubes and takes fuel as this one would with every tube renewed; its own "
    "fan is taken to reach the output needed.",
    "What is left of tubes or boiler at the end of the horizon has no value in these figures.",
    "Prices may be wrong by 10 % where the owner stated them and 30 % where they are assumed "
    "(ours); quoted prices stand.",
    "No insurance payment is counted, whatever the deductible: wear is often excluded.",
)


def assumptions_of(situation: Situation) -> tuple[str, ...]:
    """All of them, with the share of losses that stopped this boiler so far."""
    return (_FUEL, _STOPS, f"{_stops_so_far(situation)} {_WHAT_IS_A_STOP}", *_OTHERS)


def _stops_so_far(situation: Situation) -> str:
    passes = " ".join(f"Pass {each.pass_}: {_of_pass(each.risk)}." for each in situation.passes)
    return f"How many stop the boiler goes by its record. {passes}"


def _of_pass(risk: LeakRisk) -> str:
    tubes = risk.stopping_losses + risk.losses_when_down
    return (
        f"{_so_many(risk.stopping_losses, tubes, 'lost tube')} and "
        f"{_so_many(risk.stopping_joint_leaks, risk.joint_leaks, 'leaking joint')}"
    )


def _so_many(stopping: int, of: int, what: str) -> str:
    if of == 0:
        return f"no {what} to go by"
    return f"{stopping or 'none'} of {of} {what}{'' if of == 1 else 's'}"
