// Writes a step of a breakdown by hand.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return std::vector<cost_step<usd>>{{.text = "paid", .weight = {1}, .change = {1}, .level = {1}}}.size() == 0;
}
