// A session reads its profile as long as it lives, so that has to stay.
// SPDX-License-Identifier: BSL-1.0
// gnu: use of deleted function .*cutting_session
// clang: call to deleted constructor of .*cutting_session
// message: cutting_session
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    const prism_loin loin{.length = 40_cm, .face = {.width = 16_cm, .depth = 7_cm}};
    const profile meat = tabulate(loin, 1_mm);
    const auto by_mass = [](const cutting_problem& p) { return portion_mass_objective(p); };
#ifdef TRANCHE_NONSENSE
    const cutting_session session(tabulate(loin, 1_mm), {{{.name = "steak", .thickness = 3_cm}}}, by_mass);
#else
    const cutting_session session(meat, {{{.name = "steak", .thickness = 3_cm}}}, by_mass);
#endif
    return session.next() ? 0 : 1;
}
