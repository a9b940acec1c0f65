// A table.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return text_table({.columns = {{.head = "cut"}}, .rows = {{{"steak"}}}}).size() == 0; }
