// An objective reads the tables of its problem, so that has to stay.
// SPDX-License-Identifier: BSL-1.0
// gnu: cannot convert .*cutting_problem. to .std::reference_wrapper
// clang: no viable conversion from .*cutting_problem. to .std::reference_wrapper
// message: cutting_problem
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    const profile meat = tabulate(prism_loin{.length = 40_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    const cutting_problem problem(meat, {{.name = "steak", .thickness = 3_cm}}, {});
#ifdef TRANCHE_NONSENSE
    const auto objective = kept_mass_objective::portions_then_mass(cutting_problem(meat, problem.specs(), {}));
#else
    const auto objective = kept_mass_objective::portions_then_mass(problem);
#endif
    return objective.opening(1, 0) == 0 ? 0 : 1;
}
