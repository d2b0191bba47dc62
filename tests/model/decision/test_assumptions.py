"""What the money takes for granted: the shares of stops are those of the boiler's own record."""

from dataclasses import replace

from model.decision.assumptions import assumptions_of
from tests.model.decision.situation_cases import RISK, a_pass, a_situation


def stops(*risks):
    passes = [a_pass(number, risk=replace(RISK, **risk)) for number, risk in enumerate(risks, 2)]
    said = [each for each in assumptions_of(a_situation(*passes)) if "by its record" in each]
    assert len(said) == 1
    return said[0]


def test_the_share_that_stops_the_boiler_is_said_for_each_pass():
    first = {"losses": 12, "stopping_losses": 2, "losses_when_down": 8, "joint_leaks": 3}
    second = {
        "losses": 1, "stopping_losses": 0, "losses_when_down": 1, "joint_leaks": 6,
        "stopping_joint_leaks": 6,
    }  # fmt: skip
    assert stops(first, second).startswith(
        "How many stop the boiler goes by its record. Pass 2: 2 of 10 lost tubes and none of 3 "
        "leaking joints. Pass 3: none of 1 lost tube and 6 of 6 leaking joints. "
    )


def test_where_there_is_no_record_it_says_so_and_what_is_taken():
    said = stops({"losses": 4})
    assert "Pass 2: no lost tube to go by and no leaking joint to go by." in said
    assert "with none, half of them are taken to stop the boiler" in said


def test_what_is_taken_of_a_new_boiler_is_said():
    said = " ".join(assumptions_of(a_situation()))
    assert "A new boiler loses tubes and takes fuel as this one would" in said
    assert "its own fan is taken to reach the output needed" in said


def test_no_sentence_charges_every_lost_tube_with_a_forced_outage():
    said = " ".join(assumptions_of(a_situation()))
    assert "between outages stops the boiler and costs a forced outage of its own" in said
    assert "found when the boiler is down anyway costs its own work alone" in said
