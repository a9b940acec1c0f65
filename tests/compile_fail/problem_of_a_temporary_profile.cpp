// A problem reads its profile as long as it lives, so that has to stay.
// SPDX-License-Identifier: BSL-1.0
// gnu: use of deleted function .*cutting_problem
// clang: call to deleted constructor of .*cutting_problem
// message: cutting_problem
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    const prism_loin loin{.length = 40_cm, .face = {.width = 16_cm, .depth = 7_cm}};
    const profile meat = tabulate(loin, 1_mm);
#ifdef TRANCHE_NONSENSE
    const cutting_problem problem(tabulate(loin, 1_mm), {{.name = "steak", .thickness = 3_cm}}, {});
#else
    const cutting_problem problem(meat, {{.name = "steak", .thickness = 3_cm}}, {});
#endif
    return problem.cells() == meat.cells() ? 0 : 1;
}
