// A sheet made by hand.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return cut_sheet{.title = "invented",
                     .loins = {{.weight = 12_lb}},
                     .cuts = {{.spec = {.name = "steak", .thickness = 1_in}}}}
               .cuts.size() == 0;
}
