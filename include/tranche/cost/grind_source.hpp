// What goes into a grinder: how fat it is, what it costs, and how much of it there is.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/units/currency.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// One source of meat for grind. `fat` is lipid by mass, as an analysis finds it. `price` is what a kilogram costs to buy
/// or, of own trim, would bring elsewhere; it may be negative where getting rid of it would cost.
template <currency C>
struct grind_source {
    std::string name{};    ///< not empty, unlike the others in a blend
    fraction fat = 0.0;    ///< 0 to 1
    unit_price<C> price{}; ///< finite
    range<mass> supply{};  ///< the least that has to go in and the most that there is; by default any mass
};

/// Throws `invalid_input` naming the source and the field.
template <currency C>
void validate(const grind_source<C>& source) {
    if (source.name.empty()) throw invalid_input("name", "\"\"", "a name for the source");
    require_share(source.fat, source.name + ": fat");
    if (!std::isfinite(source.price.value()))
        throw invalid_input(source.name + ": price", shown(source.price.value()), "a finite price");
    require_range(source.supply, source.name + ": supply");
}

/// Throws `invalid_input` for no sources, a bad one, or a name that stands twice. O(sources²).
template <currency C>
void validate(const std::vector<grind_source<C>>& sources) {
    if (sources.empty()) throw invalid_input("sources", "none", "at least one");
    for (std::size_t i = 0; i < sources.size(); ++i) {
        validate(sources[i]);
        for (std::size_t k = 0; k < i; ++k)
            if (sources[k].name == sources[i].name)
                throw invalid_input("name", '"' + sources[i].name + "\" twice", "a name of its own for each source");
    }
}

} // namespace tranche
