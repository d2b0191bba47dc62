"""The closed lists: every word a record or a file may hold where only some words are allowed.

Spelled in lower case with hyphens. Not here: what the words do to a tube (``model.condition``).
"""

from enum import StrEnum


class End(StrEnum):
    """An end of a tube, named from the boiler's front."""

    FRONT = "front"
    REAR = "rear"


class State(StrEnum):
    """State of a tube end, worst first. Nobody looked is ``None``, never a word."""

    SPLIT = "split"
    LEAKING = "leaking"
    PLUGGED = "plugged"
    THINNED = "thinned"
    SOUND = "sound"


class Reason(StrEnum):
    """Why an end was not inspected."""

    NO_ENTRY = "no-entry"
    NOT_CLEANED = "not-cleaned"
    RETARDER_IN_PLACE = "retarder-in-place"
    REFRACTORY = "refractory"
    OBSTRUCTED = "obstructed"
    OUT_OF_SCOPE = "out-of-scope"
    NO_TIME = "no-time"


class How(StrEnum):
    """How a state is known, best first. ``FILLED`` is not a look."""

    SEEN = "seen"
    PAPER = "paper"
    BY_ROW = "by-row"
    FILLED = "filled"


class LeakAt(StrEnum):
    """Where it leaks, worst first: only a joint leak is not a tube leak."""

    BORE = "bore"
    LIGAMENT = "ligament"
    NOT_FOUND = "not-found"
    JOINT = "joint"


class FoundBy(StrEnum):
    """How a leak or a finding was found."""

    EYE = "eye"
    STANDING_WATER = "standing-water"
    PRESSURE_TEST = "pressure-test"
    DYE_PENETRANT = "dye-penetrant"
    BORESCOPE = "borescope"
    ULTRASONIC = "ultrasonic"
    EDDY_CURRENT = "eddy-current"
    TAPPING = "tapping"
    OTHER = "other"


class Mechanism(StrEnum):
    """What kind of damage or trace a finding is."""

    GENERAL_THINNING = "general-thinning"
    PITTING = "pitting"
    OXYGEN_PITTING = "oxygen-pitting"
    DEW_POINT_CORROSION = "dew-point-corrosion"
    GROOVING_AT_ROLL = "grooving-at-roll"
    END_BURNED = "end-burned"
    END_ERODED = "end-eroded"
    BEAD_CRACKED = "bead-cracked"
    BEAD_MISSING = "bead-missing"
    CIRCUMFERENTIAL_CRACK = "circumferential-crack"
    LOOSE = "loose"
    SLIPPED = "slipped"
    BULGED = "bulged"
    BOWED = "bowed"
    COLLAPSED = "collapsed"
    SCALE = "scale"
    DEPOSIT = "deposit"
    RUST_TRAIL = "rust-trail"
    SALT_TRAIL = "salt-trail"
    RETARDER_MISSING = "retarder-missing"
    RETARDER_STUCK = "retarder-stuck"
    RETARDER_BURNED = "retarder-burned"
    FERRULE_LOST = "ferrule-lost"
    OBSTRUCTION = "obstruction"
    MECHANICAL_DAMAGE = "mechanical-damage"
    OTHER = "other"


class Side(StrEnum):
    """Which side of the wall."""

    FIRE = "fire"
    WATER = "water"
    UNKNOWN = "unknown"


class Grade(StrEnum):
    """How much a finding matters, least first."""

    NOTE = "note"
    WATCH = "watch"
    ACT = "act"


class PlugType(StrEnum):
    DRIVEN = "driven"
    THROUGH_ROD = "through-rod"
    CAP = "cap"
    WELDED = "welded"
    OTHER = "other"


class PlugCondition(StrEnum):
    """Worst first; all but ``TIGHT`` make the tube bad now."""

    MISSING = "missing"
    BURNED = "burned"
    WEEPING = "weeping"
    TIGHT = "tight"


class Scope(StrEnum):
    """What the inspection was to cover; ``PASSES`` names them beside it."""

    FULL = "full"
    PASSES = "passes"
    LEAK_CALL = "leak-call"
    AFTER_REPAIR = "after-repair"


class ReadingMethod(StrEnum):
    ULTRASONIC = "ultrasonic"
    EDDY_CURRENT = "eddy-current"
    CALIPER = "caliper"
    PIT_GAUGE = "pit-gauge"
    OTHER = "other"


class Surface(StrEnum):
    AS_FOUND = "as-found"
    CLEANED = "cleaned"


class Purpose(StrEnum):
    """Why a reading was taken: only planned ones are an unbiased sample."""

    PLANNED = "planned"
    SUSPECT = "suspect"
    BASELINE = "baseline"


class Does(StrEnum):
    """What work did to a tube."""

    PLUG = "plug"
    UNPLUG = "unplug"
    RE_ROLL = "re-roll"
    REPLACE = "replace"
    WELD = "weld"
    CLEAN = "clean"
    OTHER = "other"


class EventWhat(StrEnum):
    """What a past event was (``history.csv``)."""

    LEAK = "leak"
    PLUG = "plug"
    RE_ROLL = "re-roll"
    REPLACED = "replaced"
    CLEANED = "cleaned"
    RETUBED = "retubed"


class SettledFrom(StrEnum):
    """What a settler went by."""

    LOOKED_AGAIN = "looked-again"
    PHOTOS = "photos"
    READINGS = "readings"


class SettingsSection(StrEnum):
    WALL = "wall"
    FIRING = "firing"
    OUTAGE = "outage"
    COSTS = "costs"
    LIMITS = "limits"


class SameWhat(StrEnum):
    BOILER = "boiler"
    INSPECTION = "inspection"
    PERSON = "person"


class TubeKind(StrEnum):
    PLAIN = "plain"
    STAY = "stay"


class BoilerKind(StrEnum):
    WET_BACK = "wet-back"
    DRY_BACK = "dry-back"
    OTHER = "other"


class Looks(StrEnum):
    """Which way a person at a face looks: rearward is not mirrored, forward is."""

    REARWARD = "rearward"
    FORWARD = "forward"


class PartWhat(StrEnum):
    """Anything that is not a tube."""

    LIGAMENT = "ligament"
    SHEET_AREA = "sheet-area"
    STAY = "stay"
    FURNACE = "furnace"
    CHAMBER = "chamber"
    REFRACTORY = "refractory"
    WATER_SIDE = "water-side"
    HANDHOLE = "handhole"
    OTHER = "other"


class PhotoAbout(StrEnum):
    TUBE = "tube"
    FACE = "face"
    SHEET = "sheet"
    PART = "part"
    DATA_PLATE = "data-plate"
    GAUGE = "gauge"
    BOILER = "boiler"


class Medium(StrEnum):
    """What a pressure test was made with. Air is recorded when it happened, never advised."""

    WATER = "water"
    AIR = "air"
    OTHER = "other"
