"""Example files to start from: one of each file that people write, for an invented boiler.

Not here: the demo boiler, which is larger and has a history.
"""

from collections.abc import Iterator

from model.tubesheet.layout import default_key

BOILER_TOML = """\
# boiler.toml - an example with invented data. Change what you know, delete what you do not:
# whatever is missing is named in the report where it is missed. Only [boiler] tag is needed.
#
# Units are SI: mm, MPa (gauge), degrees Celsius, kW. For inches, psi, degrees Fahrenheit and
# boiler horsepower, put  units = "us"  above the first section and change the endings of the
# keys: _mm to _in, _mpa to _psi, _c to _f, _kw to _bhp, _m2 to _ft2.

[boiler]
tag = "EXAMPLE-1"                  # the name by which commands find it
owner = "Invented Laundry"
site = "Example Street, boiler house"
kind = "wet-back"                  # wet-back, dry-back or other
year_built = 2004
mawp_mpa = 1.0                     # maximum allowable working pressure
operating_pressure_mpa = 0.8
numbering_note = "Rows from the top, columns from the left, seen from the front."

[identity]                         # from the data plate and the papers
maker = "Invented maker"
serial = "0001"
national_board = "0001"
jurisdiction = "Invented province"
code = "as on the data plate"
heating_surface_m2 = 40
certificate_expiry = 2027-05-31
safety_valve_mpa = 1.0
insurer_object = "0001"
# Name the passes of each earlier retube: "pass 2, 2015", "passes 2 and 3, 2015", "passes 2 to 4".
# One that names none ("2015", "2nd pass", "all but pass 3") is taken for every pass. Where a pass
# was retubed before the record began, [tubes] installed is not the age of its tubes.
earlier_retubes = ["pass 2, 2015"]

[tubes]                            # holds for every tube of the layout that says nothing else
od_mm = 50.8
wall_mm = 2.9
length_mm = 3000
material = "SA-178 A"
installed = 2015                   # a day, a month ("2015-06") or a year
# How the tube ends are made, by pass: rolled, rolled-flared, rolled-beaded, rolled-welded, welded.
ends = {2 = "rolled-beaded", 3 = "rolled"}

[shell]                            # seen from the front: x to the right, y up, 0,0 the centre
diameter_mm = 1200
furnaces = [{x_mm = 0, y_mm = -250, diameter_mm = 500}]

[[sheets]]
key = "front"
name = "Front tube sheet"
plate_mm = 14                      # as measured; clusters of plugs are judged by it
stress_mpa = 95                    # allowable stress of the plate, from its code
hole_mm = 51.6
material = "SA-285 C"

[[sheets]]
key = "chamber"
name = "Turnaround chamber tube sheet"
plate_mm = 14
stress_mpa = 95

[[sheets]]
key = "rear"
name = "Rear tube sheet"
plate_mm = 14
stress_mpa = 95

# A face is a place to stand. From the front one looks rearward; from the turnaround chamber or
# the rear one looks forward, and the map is drawn mirrored.
[[faces]]
key = "F"
name = "Front smokebox"
sheet = "front"
looks = "rearward"
shows = [{pass = 2, end = "front"}, {pass = 3, end = "front"}]

[[faces]]
key = "C"
name = "Turnaround chamber"
sheet = "chamber"
looks = "forward"
shows = [{pass = 2, end = "rear"}]

[[faces]]
key = "R"
name = "Rear smokebox"
sheet = "rear"
looks = "forward"
shows = [{pass = 3, end = "rear"}]

[wall]
retirement = "stated"              # stated, us-historic or lloyds-table
stated_mm = 2.0                    # stated by the owner's engineer or the inspector
basis = "invented for this example"
allowance_mm = 0.0                 # added to a wall that is taken from a rule
note_percent = 20                  # wall loss from which a tube is called thinned

[firing]
fuel = "natural gas"               # natural gas or light oil
output_kw = 2000
needed_output_kw = 1500
standby_kw = 0
oxygen_percent = 3.0
stack_c = 230
air_c = 20
load_percent = 80
hours_per_year = 4000
furnace_exit_c = 1000
furnace_pressure_pa = 0
burner_loss_pa = 800
fan_pressure_pa = 2000
retarders = {2 = "none", 3 = "none"}

[outage]
next = 2027-04-01
interval_years = 1
legal_interval_years = 2
tube_lead_weeks = 8

# A cost is {value = 1.0, source = "quoted"} (or "owner", "assumed"); a bare number is assumed.
# Each is for what stands behind it. What is missing is named in the advice; without labour, tubes,
# plugs, the shared items, days and discount the options are not ranked by money.
[costs]
currency = "EUR"
fuel_per_gj = {value = 12, source = "owner"}          # of the fuel's higher heating value
labour_per_hour = {value = 85, source = "quoted"}     # one hour of one worker
# Hours of work, of one worker:
set_up_hours = 16                  # once in an outage, whatever is done
hours_per_tube = {rolled = 1.0, beaded = 1.3, welded = 2.0}   # one tube out and a new one in, by
                                   # the way [tubes] ends says; or one number for all
hours_per_plug = 0.7               # one plug: a tube takes two
hours_per_re_roll = 0.2            # one tube end
tube_each = 90                     # one tube, cut to length
plug_each = 25                     # one plug: a tube takes two
# Shared: once in an outage, whatever is done.
open_and_close = 1500              # cooling, opening, closing, filling
doors_and_refractory = 2500
pressure_test = 1200
inspector = 900                    # the authorised inspector's fee, one visit
cleaning = 2000                    # in a planned outage
mobilisation = 3000                # of the crew, there and back
freight = 800                      # of one order of tubes for a whole pass or more
sheet_renewal = 40000              # one tube sheet, without the tubes
# Time:
days_per_100_tubes = 3             # days of the crew to renew 100 tubes of this boiler
outage_per_day = 5000              # a day without steam in a planned outage, net of any standby
forced_outage_days = 5             # days that one unplanned outage takes
forced_outage_per_day = 9000       # lost production of such a day without any standby; the share
                                   # that [firing] standby_kw covers is taken off
capacity_per_mwh = 60              # each MWh of heat that is needed and not reached
rental_per_week = 6000             # a rented boiler, whole weeks
rental_mobilise = 8000             # there, connected and back, once
new_boiler = 250000                # bought, installed and the old one taken out
deductible = 25000                 # of the insurance, for information: in no sum
discount_percent = 8               # a year
horizon_years = 15                 # years that are looked ahead

[limits]                           # only those that differ from the acceptance limits built in
plugged_percent = {watch = 5, act = 10, basis = "invented for this example"}
out_of_service_percent = {watch = 5, act = 10, basis = "invented for this example"}
coverage_percent = {watch = 95, act = 80, basis = "invented for this example"}
# Open places around plugs: what an engineer answered, by the key of the sheet. act_mm is the widest
# circle without a working tube or stay that is accepted there; it takes the place of the pitch that
# follows from plate, stress and MAWP. basis must say whose answer it is, and of what day.
cluster = {chamber = {act_mm = 240, basis = "invented: letter of the owner's engineer, 2026-10-01"}}
"""

OBSERVATIONS_CSV = """\
tube,end,state,reason,leak_at,found_by,plug_type,plug_condition,mechanism,side,grade,wall_mm,method,instrument,accuracy_mm,at_mm,clock,purpose,note,inspector,observed_at
P2-R01-C01,front,sound,,,eye,,,,,,,,,,,,,invented example,A. Example,2025-11-25T10:00:00+01:00
P2-R01-C01,rear,sound,,,eye,,,,,,,,,,,,,,A. Example,2025-11-25T10:20:00+01:00
P2-R01-C02,front,leaking,,joint,standing-water,,,,,,,,,,,,,,A. Example,
P2-R01-C03,,plugged,,,eye,driven,tight,,,,,,,,,,,no end given: both ends,A. Example,
P2-R01-C04,rear,sound,,,eye,,,bead-cracked,fire,watch,,,,,,,,a finding beside the state,A. Example,
P2-R02-C01,front,thinned,,,ultrasonic,,,,,,2.2,ultrasonic,gauge 14,0.1,150,6,planned,,A. Example,
P2-R02-C02,front,,,,,,,,,,2.8,ultrasonic,gauge 14,0.1,150,6,planned,a reading only,A. Example,
P3-R01-C01,rear,,retarder-in-place,,,,,,,,,,,,,,,not inspected and why,A. Example,
"""

HISTORY_CSV = """\
date,what,tube,pass,count,plug_type,by,source
2015,retubed,,2,,,Invented contractor,invented example
2019-06,leak,,3,2,,,boiler log (invented)
2021-03-14,plug,P2-R01-C03,,,driven,Night crew,boiler log (invented)
"""

WORK_CSV = """\
tube,pass,count,does,date,ends,plug_type,heat,od_mm,wall_mm,material,by,source
P2-R01-C02,,,re-roll,2025-11-26,front,,,,,,Invented contractor,invented example
P2-R02-C01,,,replace,2025-11-26,,,H-0001,50.8,2.9,SA-178 A,Invented contractor,
P3-R02-C02,,,plug,2025-11-26,both,welded,,,,,Invented contractor,
,3,4,clean,2025-11-26,,,,,,,Invented contractor,
"""

PART_CSV = """\
part,tubes,sheet,distance_mm,clock,where,mechanism,side,method,length_mm,depth_mm,remaining_percent,grade,note,inspector,observed_at
ligament,P2-R01-C01 P2-R01-C02,chamber,,,,other,fire,dye-penetrant,12,,,act,invented,A. Example,
furnace,,,1200,6,,pitting,water,ultrasonic,,1.0,90,watch,invented,A. Example,2025-11-25T11:00Z
refractory,,,,,rear door (in words),other,fire,eye,300,,,note,invented,A. Example,
"""

CAUSE_CSV = """\
group,side,evidence,suspected,confirmed_by,inspector
pits in pass 2 (invented example),water,deep at the waterline,oxygen in feed water,,A. Example
"""

TEST_CSV = """\
pressure_mpa,medium,water_c,metal_c,started,held_minutes,end_pressure_mpa,gauge,leaks_seen,by_rule,inspector
1.5,water,25,22,2025-11-26T14:00:00+01:00,30,1.5,gauge 3,no,invented example,A. Example
"""

PROBE_MAP_TOML = """\
# probe-map.toml - an example with invented data: what the columns of a firm's table mean.
# Copy it for each firm, and read the table with
#   tubewright probe TAG TABLE.csv --map probe-map.toml --firm NAME --method eddy-current --date DAY

[columns]                          # our word = the heading in the firm's table
tube = "Tube"                      # or, in its place, three columns: pass, row and column
loss = "Loss %"                    # or depth (of the loss), or wall (what remains): one only
distance = "Distance"              # along the tube; this and the rest may be left out
end = "End"
clock = "Clock"                    # seen from the front
note = "Remarks"

[units]
loss = "percent"                   # of the wall; "fraction" where 0.35 means 35 percent
distance = "mm"                    # mm, cm, m, in or ft; depth and wall: mm or in

[table]
header_line = 1                    # the line that holds the headings
distance_from = "front"            # the sheet: front, rear, or end (the end that the row names)
front_words = ["F"]                # what the firm calls the ends, beside front and rear
rear_words = ["R"]
nothing_found = ["NDD", "-"]       # stands for the loss where nothing was found: no reading
# pass = 2                         # where the table is of one pass and has no column for it
# end = "front"                    # likewise

[probe]
name = "bobbin probe, invented"
accuracy_mm = 0.3
"""

_ROW_HEIGHTS_MM = {2: (150.0, 85.0), 3: (360.0, 295.0)}
_PITCH_MM = 75.0
_TUBES_IN_ROW = 6


def template_files() -> dict[str, str]:
    """The text of each example file by its name."""
    return {
        "boiler.toml": BOILER_TOML,
        "layout.csv": "\n".join(_layout_lines()) + "\n",
        "observations.csv": OBSERVATIONS_CSV,
        "history.csv": HISTORY_CSV,
        "work.csv": WORK_CSV,
        "part.csv": PART_CSV,
        "cause.csv": CAUSE_CSV,
        "test.csv": TEST_CSV,
        "probe-map.toml": PROBE_MAP_TOML,
    }


def _layout_lines() -> Iterator[str]:
    yield "tube,pass,row,column,x_mm,y_mm,od_mm,wall_mm,kind,label"
    for pass_, heights in _ROW_HEIGHTS_MM.items():
        for row, y_mm in enumerate(heights, start=1):
            for column in range(1, _TUBES_IN_ROW + 1):
                x_mm = (column - (_TUBES_IN_ROW + 1) / 2) * _PITCH_MM
                key = default_key(pass_, row, column)
                # One stay tube, thicker than the others, shows how it is written.
                is_stay = (pass_, row, column) == (3, 2, 1)
                own = "50.8,5.0,stay,example" if is_stay else ",,plain,"
                yield f"{key},{pass_},{row},{column},{x_mm:g},{y_mm:g},{own}"
