"""What a formula of the calculation desk is: its parameters, its source, and what it gives.

Not here: the formulas (``plate_formulas`` and its like), their list (``catalogue``), and
reading text values (``reading``).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

Value = float | int | str | tuple[float, ...] | None
Inputs = Mapping[str, Value]
ResultValue = float | int | str | bool | None | Mapping[str, float | None]

ParameterKind = Literal["number", "integer", "choice", "numbers", "date", "text"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameter:
    """One input of a formula. ``name`` ends in its unit; the option is ``--name-with-hyphens``.

    ``above`` excludes its value, ``at_least`` and ``at_most`` include theirs. ``may_count`` lets a
    number of a list stand for several, as ``3x95`` does for 95 threes.
    """

    name: str
    help: str
    symbol: str = ""
    unit: str = ""
    kind: ParameterKind = "number"
    is_required: bool = True
    default: Value = None
    above: float | None = None
    at_least: float | None = None
    at_most: float | None = None
    choices: tuple[str, ...] = ()
    may_count: bool = False

    @property
    def option(self) -> str:
        """How the command line spells it, such as ``--pitch-mm``."""
        return "--" + self.name.replace("_", "-")

    @property
    def limit(self) -> str:
        """The range in words, such as ``above 0``; empty when anything goes."""
        if self.kind == "choice":
            return "one of " + ", ".join(self.choices)
        parts: list[str] = []
        if self.above is not None:
            parts.append(f"above {self.above:g}")
        if self.at_least is not None:
            parts.append(f"at least {self.at_least:g}")
        if self.at_most is not None:
            parts.append(f"at most {self.at_most:g}")
        return " and ".join(parts)

    def allows(self, value: float) -> bool:
        """Whether a number lies in the range."""
        return (
            (self.above is None or value > self.above)
            and (self.at_least is None or value >= self.at_least)
            and (self.at_most is None or value <= self.at_most)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Computed:
    """What a formula's function returns: named results and notes on them."""

    result: Mapping[str, ResultValue]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """A formula that can be run by itself.

    ``one_of`` are groups of parameters of which exactly one must be given. ``notes`` are printed
    with every result.
    """

    name: str
    summary: str
    source: str
    parameters: tuple[Parameter, ...]
    compute: Callable[[Inputs], Computed]
    results: Mapping[str, str]
    one_of: tuple[tuple[str, ...], ...] = ()
    notes: tuple[str, ...] = ()

    def parameter(self, name: str) -> Parameter | None:
        """The parameter of this name; None when there is none."""
        return next((each for each in self.parameters if each.name == name), None)

    def help_lines(self) -> tuple[str, ...]:
        """The help text: summary, each parameter with symbol, unit and range, results, source."""
        lines = [f"{self.name}: {self.summary}", "", "Parameters:"]
        lines += [f"  {_parameter_line(each)}" for each in self.parameters]
        for group in self.one_of:
            options = [each.option for each in self.parameters if each.name in group]
            lines.append(f"  Give exactly one of {' and '.join(options)}.")
        lines += ["", "Results:"]
        lines += [f"  {name}: {words}" for name, words in self.results.items()]
        lines += ["", f"Source: {self.source}"]
        lines += [f"Note: {note}" for note in self.notes]
        return tuple(lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """A formula that was run: what went in, what came out, and where it stands."""

    name: str
    inputs: Mapping[str, Value]
    result: Mapping[str, ResultValue]
    source: str
    notes: tuple[str, ...] = field(default=())

    def to_dict(self) -> dict[str, object]:
        """The object that ``calc --json`` prints."""
        inputs = {
            name: list(value) if isinstance(value, tuple) else value
            for name, value in self.inputs.items()
        }
        return {
            "name": self.name,
            "inputs": inputs,
            "result": dict(self.result),
            "source": self.source,
            "notes": list(self.notes),
        }


def _parameter_line(parameter: Parameter) -> str:
    unit = f" [{parameter.unit}]" if parameter.unit else ""
    symbol = f"{parameter.symbol}, " if parameter.symbol else ""
    extras = [part for part in (parameter.limit,) if part]
    if parameter.default is not None:
        extras.append(f"default {parameter.default}")
    elif not parameter.is_required:
        extras.append("may be left out")
    tail = f" ({'; '.join(extras)})" if extras else ""
    return f"{parameter.option}{unit}: {symbol}{parameter.help}{tail}"
