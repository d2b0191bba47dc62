"""One year after the other of all passes as the options leave them, in some trials at once.

Arrays are [start, trial] (see ``trial_rules``). Not here: adding up over the passes (``trials``).
"""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING, Final

from model.decision.trials.loss_rates import loss_rates
from model.decision.trials.poisson_counts import poisson_counts

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from model.decision.situation import Situation
    from model.decision.trials.draws import Draws
    from model.decision.trials.trial_rules import Due, Starts, TrialRules

    Floats = NDArray[np.float64]
    Integers = NDArray[np.intp]
    Truths = NDArray[np.bool_]

# Tubes: a number exactly at its level is not beyond it, in spite of rounding.
_ROUNDING: Final = 1e-9


class Happening(IntEnum):
    """What is counted of a pass, whether the boiler stops for it or not."""

    LOST_TUBE = 0
    LEAKING_JOINT = 1
    TUBE_AT_WALL = 2
    """Plugged at a planned outage because it has come to the retirement wall."""
    FUEL_GJ = 3
    RETUBE = 4


class TrialYears:
    """The tubes of every start in every trial, from the end of this outage on.

    In service are the weak ones, the new ones, and the others.
    """

    def __init__(
        self,
        rules: TrialRules,
        situation: Situation,
        draws: Draws,
        *,
        years: int,
        discount_percent: float,
    ) -> None:
        import numpy as np

        self._rules = rules
        self._draws = draws
        self._rates = loss_rates(situation, draws, years=years)
        self._growth = 1.0 + discount_percent / 100.0
        self._year = 0
        self._go_by(rules.starts)
        starts, options = rules.starts.pass_at.size, rules.starts.start_of.shape[0]
        shape = (starts, draws.trials)

        def filled(numbers: Floats) -> Floats:
            return np.broadcast_to(numbers, shape).copy()

        start = rules.starts
        self._plugged = filled(start.plugged)
        self._weak = filled(start.weak)
        self._new = filled(start.new)
        self._others = filled(start.tubes - start.plugged - start.weak - start.new)
        # Where the first year of a tube put in now stands in the flat rates of new tubes.
        self._first_new = start.pass_at[:, None] * draws.trials + np.arange(draws.trials)
        self.discounted: Floats = np.zeros((len(Happening), *shape))
        self.sums: Floats = np.zeros((years, len(Happening), starts))
        """[year, happening, start], over the trials."""
        self.stop_sums: Floats = np.zeros((years, 2, starts))
        """The lost tubes and the leaking joints that stop the boiler, likewise."""
        self.leaks: Floats = np.zeros(shape)
        self.first_retube_year: Floats = np.full(shape, np.inf)
        self.short_discounted: Floats = np.zeros((options, draws.trials))
        """Missing output [option, trial], MWh."""
        self.short_sums: Floats = np.zeros((years, options))
        self.outages_discounted: Floats = np.zeros((options, draws.trials))
        """Outages in which a pass is retubed [option, trial]."""
        self.outage_sums: Floats = np.zeros((years, options))

    def live_one_year(self) -> None:
        self._year += 1
        self._leak_at_joints()
        places, lost = self._lose_tubes()
        plugged = self._plugged.reshape(-1)
        plugged[places] += 0.5 * lost
        self._use_fuel()
        self._miss_output()
        plugged[places] += 0.5 * lost
        self._have_planned_outage()

    def _go_by(self, starts: Starts) -> None:
        import numpy as np

        self.starts = starts
        trials = self._draws.trials
        # By flat place of starts and trials: the start, and the flat place by pass and trial.
        self._start_of_place = np.arange(starts.pass_at.size).repeat(trials)
        self._place_of_pass = (starts.pass_at[:, None] * trials + np.arange(trials)).reshape(-1)
        self._starts_of_pass = [
            (starts.pass_at == place).nonzero()[0] for place in range(starts.start_of.shape[1])
        ]

    # What chance does.

    def _leak_at_joints(self) -> None:
        import numpy as np

        at = self.starts.pass_at
        rates = self._draws.joint_leaks_per_year[at] / self.starts.tubes
        expected = rates * (self.starts.tubes - self._plugged)
        uniforms = self._draws.joint_uniforms[self._year - 1]
        places = np.flatnonzero(expected > -np.log(uniforms)[at])
        counts = poisson_counts(self._at(uniforms, places), expected.reshape(-1)[places])
        stops = counts * self._at(self._draws.joint_stopping_share, places)
        self._count_at(Happening.LEAKING_JOINT, places, counts, stops)

    def _lose_tubes(self) -> tuple[Integers, Floats]:
        """Takes lost tubes from the three sorts by what was expected of each; they are not yet
        plugged. Returns flat places and numbers."""
        import numpy as np

        at, year = self.starts.pass_at, self._year - 1
        of_weak = self._weak * self._rates.weak[year][at]
        of_new = self._new * self._rates_of_new()
        expected = self._others * self._rates.others[year][at]
        expected += of_weak
        expected += of_new
        uniforms = self._draws.tube_uniforms[year]
        places = np.flatnonzero(expected > -np.log(uniforms)[at])
        means = expected.reshape(-1)[places]
        lost = poisson_counts(self._at(uniforms, places), means)
        in_service = (self.starts.tubes - self._plugged).reshape(-1)[places]
        lost = np.minimum(lost, np.floor(in_service + _ROUNDING))
        left = np.maximum(in_service - lost, 0.0)
        each_loses = lost / means
        # What one sort has not got, the other sorts give.
        weak = self._weak.reshape(-1)[places] - of_weak.reshape(-1)[places] * each_loses
        weak = np.minimum(np.maximum(weak, 0.0), left)
        new = self._new.reshape(-1)[places] - of_new.reshape(-1)[places] * each_loses
        new = np.minimum(np.maximum(new, 0.0), left - weak)
        self._weak.reshape(-1)[places] = weak
        self._new.reshape(-1)[places] = new
        self._others.reshape(-1)[places] = left - weak - new
        stops = lost * self._at(self._draws.stopping_share, places)
        self._count_at(Happening.LOST_TUBE, places, lost, stops)
        self.leaks.reshape(-1)[places] += lost
        return places, lost

    def _rates_of_new(self) -> Floats:
        """By the year in which they were put in."""
        rates = self._rates.new
        found: Floats = rates.reshape(-1).take(
            self._first_new + (self._year - 1) * rates.shape[1] * rates.shape[2]
        )
        return found

    def _at(self, by_pass: Floats, places: Integers) -> Floats:
        """What stands by pass and trial, at flat places of starts and trials."""
        found: Floats = by_pass.reshape(-1).take(self._place_of_pass[places])
        return found

    # What plugs do.

    def _use_fuel(self) -> None:
        for place, table in enumerate(self._rules.gas.fuel):
            if table is not None:
                starts = self._starts_of_pass[place]
                percent = 100.0 / self.starts.tubes[starts] * self._plugged[starts]
                self._count(Happening.FUEL_GJ, starts, table.at(percent))

    def _miss_output(self) -> None:
        import numpy as np

        gas = self._rules.gas
        if not gas.can_be_short:
            return
        options = self._options_near(gas.beyond_standby_kw, self._rules.held_by_fan)
        if options.size:
            short_kw = np.maximum(gas.beyond_standby_kw - self._output_limit_kw(options), 0.0)
            mwh = short_kw * gas.mwh_per_kw
            self.short_sums[self._year - 1, options] += mwh.sum(axis=1)
            self.short_discounted[options] += mwh * self._growth**-self._year

    def _options_near(self, wanted_kw: float, options: Integers) -> Integers:
        """Of these options, those that in some trial may not reach the wanted output."""
        gas = self._rules.gas
        if not options.size or not gas.is_draft_rising:
            return options
        # With the most plugs of any trial it is reached: nobody need look at each.
        most = self._draft_pa(options, self._plugged.max(axis=1, keepdims=True))
        return options[gas.output_limit_kw(most)[:, 0] < wanted_kw]

    def _output_limit_kw(self, options: Integers) -> Floats:
        """Highest output [option, trial]."""
        return self._rules.gas.output_limit_kw(self._draft_pa(options, self._plugged))

    def _draft_pa(self, options: Integers, plugged: Floats) -> Floats:
        """Of all passes of each option [option, trial]."""
        import numpy as np

        total = np.zeros((options.size, plugged.shape[1]))
        for place, table in enumerate(self._rules.gas.draft):
            if table is not None:
                starts, which = np.unique(self.starts.start_of[options, place], return_inverse=True)
                percent = 100.0 / self.starts.tubes[starts] * plugged[starts]
                total += table.at(percent)[which]
        return total

    # What planned outages do.

    def _have_planned_outage(self) -> None:
        import numpy as np

        is_retubed = (self.starts.retube_year == self._year) & np.isinf(self.first_retube_year)
        due = self._rules.outages.get(self._year)
        if due is not None:
            self._plug_or_retube(due, is_retubed)
        self._retube(np.flatnonzero(is_retubed))
        # Of each option, whether a pass is retubed: before passes are parted below.
        outages = is_retubed[self.starts.start_of].any(axis=1)
        if due is not None and self._year <= self._rules.last_retube_year:
            self._retube_for_output(outages)
        self._count_outages(outages)

    def _plug_or_retube(self, due: Due, is_retubed: Truths) -> None:
        """Plugs the tubes at the retirement wall, except in passes that are retubed; adds to these
        the passes beyond their level, while it is worth while."""
        at = self.starts.pass_at
        weak = self._weak * due.weak[at]
        both = self._others * due.others[at]
        both += weak
        if self._year <= self._rules.last_retube_year:
            is_retubed |= self._plugged + both > self.starts.most_plugged + _ROUNDING
        both[is_retubed] = 0.0
        weak[is_retubed] = 0.0
        self._plugged += both
        self._weak -= weak
        self._others -= both - weak
        self._count(Happening.TUBE_AT_WALL, slice(None), both)

    def _retube_for_output(self, outages: Truths) -> None:
        """Where an option does not reach the output needed and is to, its pass with the largest
        share plugged, marked in ``outages`` [option, trial]; from then on its passes are no
        longer those of other options."""
        import numpy as np

        needed_kw = self._rules.gas.needed_kw
        if needed_kw is None or not self._rules.retubed_for_output.size:
            return
        options = self._options_near(needed_kw, self._rules.retubed_for_output)
        if not options.size:
            return
        below, trials = (self._output_limit_kw(options) < needed_kw).nonzero()
        if not below.size:
            return
        self._part_options()
        starts = self.starts.start_of[options[below]]
        share = self._plugged[starts, trials[:, None]] / self.starts.tubes[starts, 0]
        worst = starts[np.arange(below.size), share.argmax(axis=1)]
        is_plugged = share.max(axis=1) > 0.0
        self._retube((worst * self._plugged.shape[1] + trials)[is_plugged])
        outages[options[below][is_plugged], trials[is_plugged]] = True

    def _part_options(self) -> None:
        """Gives each option passes of its own."""
        import numpy as np

        if self.starts.pass_at.size == self.starts.start_of.size:
            return
        at = self.starts.start_of.reshape(-1)
        self._plugged, self._weak = self._plugged[at], self._weak[at]
        self._new, self._others = self._new[at], self._others[at]
        self._first_new = self._first_new[at]
        self.leaks, self.first_retube_year = self.leaks[at], self.first_retube_year[at]
        # take keeps the order in memory, on which writing at flat places relies.
        self.discounted = np.take(self.discounted, at, axis=1)
        self.sums = np.take(self.sums, at, axis=2)
        self.stop_sums = np.take(self.stop_sums, at, axis=2)
        self._go_by(self.starts.one_per_option())

    def _retube(self, places: Integers) -> None:
        import numpy as np

        if places.size == 0:
            return
        start, trial = np.divmod(places, self._plugged.shape[1])
        for numbers in (self._plugged, self._weak, self._others):
            numbers.reshape(-1)[places] = 0.0
        self._new.reshape(-1)[places] = self.starts.tubes[start, 0]
        rates = self._rates.new
        self._first_new.reshape(-1)[places] = (
            self.starts.pass_at[start] - self._year * rates.shape[1]
        ) * rates.shape[2] + trial
        first = self.first_retube_year.reshape(-1)
        first[places] = np.minimum(first[places], self._year)
        self._count_at(Happening.RETUBE, places, np.ones(places.size))

    # Adding up.

    def _count(self, what: Happening, starts: Integers | slice, numbers: Floats) -> None:
        self.sums[self._year - 1, what, starts] += numbers.sum(axis=1)
        self.discounted[what, starts] += numbers * self._growth**-self._year

    def _count_outages(self, outages: Truths) -> None:
        """``outages``: [option, trial]"""
        import numpy as np

        self.outage_sums[self._year - 1] = np.count_nonzero(outages, axis=1)
        self.outages_discounted += outages * self._growth**-self._year

    def _count_at(
        self, what: Happening, places: Integers, numbers: Floats, stops: Floats | None = None
    ) -> None:
        """``stops``: how many of the numbers stop the boiler."""
        import numpy as np

        starts, size = self._start_of_place[places], self.starts.pass_at.size
        self.sums[self._year - 1, what] += np.bincount(starts, numbers, size)
        if stops is not None:
            self.stop_sums[self._year - 1, what] += np.bincount(starts, stops, size)
        self.discounted[what].reshape(-1)[places] += numbers * self._growth**-self._year
