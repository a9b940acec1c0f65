// Prints a table of one cell.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/formats/report_table.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return text_table({.caption = "invented", .columns = {{.head = "cut"}}, .rows = {{{"steak"}}}}).size() == 0;
}
