// The main job with what is long to compile taken from the library `tranche::compiled`, for programs that link it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/tranche.hpp>

// The target `tranche::compiled` (CMake: TRANCHE_COMPILED=ON) defines TRANCHE_COMPILED for who links it; without it this header
// is tranche.hpp and nothing more. What is listed here is instantiated once, in the one source of the library; for other
// models, objectives and currencies a program compiles its own, as ever.
#ifdef TRANCHE_COMPILED
#ifdef TRANCHE_COMPILED_HERE // by that source
#define TRANCHE_COMPILED_ELSEWHERE
#else
#define TRANCHE_COMPILED_ELSEWHERE extern
#endif

namespace tranche {

TRANCHE_COMPILED_ELSEWHERE template profile tabulate(const measured_loin&, length, const tissue_densities&);
TRANCHE_COMPILED_ELSEWHERE template profile calibrated_profile(const measured_loin&, mass, const tabulation&);
TRANCHE_COMPILED_ELSEWHERE template profile calibrated_profile(const typical_loin&, mass, const tabulation&);

#define TRANCHE_COMPILED_PLAN(way)                                                                                     \
    TRANCHE_COMPILED_ELSEWHERE template planned way<detail::when_called>(const profile&, const cut_list&,              \
                                                                         const cutting_rules&);                        \
    TRANCHE_COMPILED_ELSEWHERE template planned way<detail::when_called>(                                              \
        const profile&, const cut_list&, const cutting_rules&, const std::vector<demand>&);
TRANCHE_COMPILED_PLAN(most_portions)
TRANCHE_COMPILED_PLAN(least_waste)
#undef TRANCHE_COMPILED_PLAN
TRANCHE_COMPILED_ELSEWHERE template planned least_giveaway<detail::when_called>(const profile&, const cut_list&,
                                                                                const charged_weights&,
                                                                                const cutting_rules&);
TRANCHE_COMPILED_ELSEWHERE template planned least_giveaway<detail::when_called>(const profile&, const cut_list&,
                                                                                const charged_weights&,
                                                                                const cutting_rules&,
                                                                                const std::vector<demand>&);
TRANCHE_COMPILED_ELSEWHERE template std::string planned::why_not<detail::when_called>() const;

#define TRANCHE_COMPILED_MONEY(C)                                                                                      \
    TRANCHE_COMPILED_ELSEWHERE template planned best_value<C>(const profile&, const cut_list&, const price_list<C>&,   \
                                                              const cutting_rules&);                                   \
    TRANCHE_COMPILED_ELSEWHERE template bill<C> settle<C>(const cutting_plan&, const purchase<C>&,                     \
                                                          const price_list<C>&, rounding, const settle_rules&);        \
    TRANCHE_COMPILED_ELSEWHERE template std::string text_report<C>(const planned&, const bill<C>&,                     \
                                                                   const kitchen_units&);
TRANCHE_COMPILED_MONEY(chosen_currency)
TRANCHE_COMPILED_MONEY(eur)
TRANCHE_COMPILED_MONEY(gbp)
TRANCHE_COMPILED_MONEY(usd)
#undef TRANCHE_COMPILED_MONEY

TRANCHE_COMPILED_ELSEWHERE template std::string text_report<detail::when_called>(const planned&, const kitchen_units&);

} // namespace tranche

#undef TRANCHE_COMPILED_ELSEWHERE
#endif
