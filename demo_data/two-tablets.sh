#!/bin/sh
# Two tablets, two files, one report, on the invented boiler. Everything is made in ./two-tablets.
#   sh demo_data/two-tablets.sh          (with tubewright on the PATH, or TUBEWRIGHT=.venv/bin/tubewright)
set -eu
tw=${TUBEWRIGHT:-tubewright}
today=$(date +%F)
mkdir two-tablets
cd two-tablets
case $tw in */*) [ -x "$tw" ] || tw=../$tw ;; esac

# The office has the boiler, and gives each tablet what it knows.
"$tw" demo --out office
office=office/tubewright.db
"$tw" --data $office handover write LB-2 to-the-tablets.zip
for tablet in ida otto; do
    mkdir $tablet
    "$tw" --data $tablet/tubewright.db handover read to-the-tablets.zip
done

# Each inspector looks at a part of the boiler, out of reach of the other. They disagree about one.
printf '%s\n' tube,end,state,leak_at,how \
    P2-R01-C01,front,sound,,seen \
    P2-R01-C02,front,leaking,joint,seen \
    P2-R01-C03,front,sound,,seen > ida.csv
printf '%s\n' tube,end,state,leak_at,how \
    P2-R01-C03,front,leaking,bore,seen \
    P3-R01-C01,rear,sound,,seen > otto.csv
for tablet in ida otto; do
    "$tw" --data $tablet/tubewright.db inspection new LB-2 --date "$today" --inspector $tablet --scope leak-call
    "$tw" --data $tablet/tubewright.db observe LB-2 $tablet.csv --inspection "$today"
    "$tw" --data $tablet/tubewright.db handover write LB-2 $tablet.zip --since to-the-tablets.zip
done

# The office reads both files, says that the two inspections are one, and settles the dispute.
"$tw" --data $office handover read otto.zip
"$tw" --data $office handover read ida.zip
both=$("$tw" --data $office --json inspection list LB-2 | python3 -c '
import json, sys
print(*(i["inspection"] for i in json.load(sys.stdin) if i["date"] == sys.argv[1]))' "$today")
# shellcheck disable=SC2086  # two ids
"$tw" --data $office inspection same $both --by "Ruth Lindqvist"
"$tw" --data $office disputes LB-2
"$tw" --data $office settle LB-2 P2-R01-C03 leaking --leak-at bore --end front \
    --from looked-again --why "water from the bore, seen by both" --by "Ruth Lindqvist"
"$tw" --data $office report LB-2 --out report
