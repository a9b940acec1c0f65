// Cut sheets as people write them. Scenarios and prices are invented.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>

namespace tranche_test {

/// A kitchen that measured its loin and priced what comes of it. Line 1 is "[sheet]".
inline const std::string kitchen_sheet = R"([sheet]
title = Friday service at the Harbour Lantern (an invented inn)
currency = USD
units = us

[loin]
weight = 12 lb 2 oz
weight on the board = 11 lb 15 oz
price = 8.10 USD/lb
length = 16 1/2 in
silverskin = 1 mm
gluteus medius from = 13 1/4 in
gluteus medius share = 30 %

[station 1]
at = 0 in
width = 8 1/4 in
depth = 3 1/2 in
fat cover = 7/16 in
tail = 2 in

[station 2]
at = 8 in
width = 8 in
depth = 3 in
fat cover = 3/8 in
tail = 1 1/2 in

[station 3]
at = 16 1/2 in
width = 8 1/4 in
depth = 2 3/4 in
fat cover = 5/16 in
tail = 1 in

[cutting]
plan for = best value
facing = 1/4 in
facing goes to = grind
grid = 1/64 in

[trim]
fat cover = rendering
tail = grind
silverskin = discard

[cut strip steak]
thickness = 1 1/8 in to 1 1/2 in
portion = 10 oz to 12 1/2 oz
fat cover = 1/4 in
tail = 1 in
silverskin = off
gluteus medius = one face
price = 15.90 USD/lb

[cut halved fillet]
thickness = 1 1/2 in to 2 1/4 in
portion = 6 oz to 8 oz
pieces = 2
fat cover = 0 in
tail = 0 in
silverskin = off
gluteus medius = none
price = 17.90 USD/lb

[cut end steak]
thickness = 3/4 in to 1 1/4 in
portion = 8 oz to 14 oz
fat cover = 1/4 in
tail = 1 in
silverskin = off
gluteus medius = any
price = 9.80 USD/lb

[loose strips]
fat cover = 0 in
tail = 0 in
silverskin = off

[loose grind]
silverskin = off

[worth]
strips = 7.20 USD/lb
grind = 4.60 USD/lb
rendering = 0.25 USD/lb

[costs]
time = 35 min
wage = 18.50 USD/h
packaging each = 0.14 USD
knife wear = 0.60 USD

[compare ready-cut strip steak]
price = 16.49 USD/lb
replaces = strip steak, halved fillet
fat cover = 3/8 in
tail = 1 1/2 in
gluteus medius = 8 %

[offer trimmed loin, Gull Wharf]
price = 9.90 USD/lb
weight = 10 lb
yield = 86 %
edible share = 90 %
rest is worth = 2.00 USD/lb
time = 25 min

[offer untrimmed loin, Lime Street]
price = 7.20 USD/lb
weight = 14 lb
yield = 63 %
edible share = 88 %
rest is worth = 2.40 USD/lb
time = 45 min
)";

/// A cook with a loin from a warehouse store, and a supermarket to compare it with.
inline const std::string home_sheet = R"(; my warehouse loin
[sheet]
title = A whole strip loin for the freezer
currency = USD
units = us
[loin]
weight = 12.31 lb
price = 8.49 USD/lb
length = 16 in
[station 1]
at = 0 in
width = 9 in
depth = 3 in
fat cover = 1/2 in
tail = 1 1/2 in
[station 2]
at = 16 in
width = 9 in
depth = 2 3/4 in
fat cover = 3/8 in
tail = 1 in
[cutting]
plan for = most portions
grid = 1/16 in
[cut steak]
thickness = 3/4 in
gluteus medius = any
price = 15.99 USD/lb
[compare supermarket strip steak]
price = 15.99 USD/lb
)";

/// Who has a scale and nothing else.
inline const std::string weight_only_sheet = R"([loin]
weight = 12 lb
[cut steak]
thickness = 1 in
)";

/// A delivery of a restaurant: two loins, portions by weight with a price on the menu, grind of the trim.
inline const std::string chef_sheet = R"([sheet]
title = Loins of Saturday
currency = usd
date = 2026-03-14
cutter = M. Ferro (invented)
[loin A]
weight = 13.2 lb
weight on the board = 12.95 lb
price = $9.85/lb
length = 17 in
silverskin = 1/16 in
gluteus medius from = 13 in
gluteus medius share = 40 %
lot = 4711-A
supplier = Gull Wharf
temperature on arrival = 36 °F
[station A 1]
at = 0 in
width = 9 in
depth = 3 3/8 in
fat cover = 1/2 in
tail = 2 in
[station A 2]
at = 17 in
width = 9 in
depth = 2 3/4 in
fat cover = 3/8 in
tail = 1 in
[loin B]
weight = 12 lb 8 oz
price = $9.85/lb
[cutting]
plan for = best value
facing = 1/4 in
facing goes to = grind
cut at = 5 in, 9 in
kept whole = 11 to 13 in
least remnant = 1/2 in
remnant required = yes
[trim]
fat cover = grind
tail = grind
silverskin = discard
[cut strip 14 oz]
thickness = 1 to 1 5/8 in
portion = 13.75 to 14.5 oz
fat cover = 1/4 in
tail = 1/2 in
silverskin = off
price each = $58
number = at least 4
charged as = 14 oz
[cut fillet 7 oz]
thickness = 1 1/2 in to 2 1/4 in
portion = 6.75 oz to 7.5 oz
pieces = 2
fat cover = 0 in
tail = 0 in
gluteus medius = none
price each = $36
number = at most 4
[loose grind]
silverskin = off
place = ends
[worth]
grind = $4.20/lb
[labour]
slab = 0.30 USD
trimmed portion = 0.60 USD
[costs]
time = 25 minutes
wage = $24 an hour
packaging each = 0.22 USD
[compare portion-cut 12 oz]
price = $21.50 per lb
replaces = Strip 14 oz, Fillet 7 oz
fat cover = 1/4 in
tail = 0 in
[grind]
fat = 20 %
lean fat = 8 %
lean price = $5.40/lb
[menu]
food cost = 32 %
rest of the plate = $2.75
)";

/// A meat case: exact numbers of packs, an order of cuts, labels.
inline const std::string case_sheet = R"([sheet]
title = Meat case, Tuesday cutting
currency = EUR
units = metric
[loin]
weight = 5.82 kg
weight on the board = 5.72 kg
price = 16.40 EUR/kg
length = 413 mm
[station 1]
at = 0 mm
width = 216 mm
depth = 86 mm
fat cover = 12 mm
tail = 50 mm
[station 2]
at = 413 mm
width = 222 mm
depth = 70 mm
fat cover = 10 mm
tail = 25 mm
[cutting]
plan for = best value
order = centre cut, thin cut, end cut
[trim whole]
fat cover = 10 mm
over-cut = 1 mm
[cut centre cut]
thickness = 25 mm to 28 mm
tail = 25 mm
price = 32.90 EUR/kg
[cut thin cut]
thickness = 13 mm
price = 33.90 EUR/kg
number = exactly 4
[cut end cut]
thickness = 19 mm to 25 mm
tail = 30 mm to 20 mm
gluteus medius = up to 40 %
price = 24.90 EUR/kg
[loose dice]
[loose grind]
[worth]
dice = 18.75 EUR/kg
grind = 11.49 EUR/kg
rendering = -0.10 EUR/kg
[case]
margin = 30 %
shrink = 4 %
share cost by = sales value
packed on = 2026-03-17
sell by = 2026-03-21
)";

/// A kitchen with four loins and tonight's covers: some loins stay whole. Invented, as are its prices.
inline const std::string covers_sheet = R"([sheet]
title = Saturday covers at the Harbour Lantern (an invented inn)
currency = EUR
units = metric

[loin A]
weight = 5.2 kg
price = 18.40 EUR/kg

[loin B]
weight = 4.6 kg
price = 17.20 EUR/kg
lot = 4711

[loin C]
weight = 5.8 kg
price = 21.50 EUR/kg

[loin D]
weight = 4.9 kg
price = 18.40 EUR/kg

[cutting]
facing = 6 mm
grid = 1 mm

[cut strip steak]
thickness = 26 mm to 38 mm
portion = 300 g to 360 g
fat cover = 6 mm
tail = 25 mm
price each = 14.50 EUR

[cut fillet]
thickness = 40 mm to 60 mm
portion = 170 g to 230 g
pieces = 2
fat cover = 0 mm
tail = 0 mm
gluteus medius = none
price each = 11.80 EUR

[cut end steak]
thickness = 24 mm to 40 mm
portion = 260 g to 360 g
gluteus medius = any
price each = 9.90 EUR

[order strip steak]
number = 16
unfilled costs = 4 EUR
left over is worth = 5 EUR

[order Fillet]
number = 8 to 10

[worth]
grind = 6.40 EUR/kg
rendering = 0.20 EUR/kg
)";

} // namespace tranche_test
