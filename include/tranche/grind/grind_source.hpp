// What goes into a grinder: how fat it is, what it costs, and how much of it there is.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/units/currency.hpp>
#include <tranche/units/detail/settled.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

static_assert(detail::settled<quantity_range<mass>>);

/// One source of meat for grind. `fat` is lipid by mass, as an analysis finds it. `price` is what a kilogram costs to buy
/// or, of own trim, would bring elsewhere; it may be negative where getting rid of it would cost.
template <currency C>
struct grind_source {
    std::string name{};            ///< not empty, unlike the others in a blend
    fraction fat = 0.0;            ///< 0 to 1
    unit_price<C> price{};         ///< finite
    quantity_range<mass> supply{}; ///< the least that has to go in and the most that there is; by default any mass

    friend bool operator==(const grind_source&, const grind_source&) = default;
};

/// Throws `invalid_input` naming the source and the field. Fat is a share by mass, 0 to 1, the price any finite one,
/// the supply zero or more and the right way round; there is a name. Prices are money by mass.
template <currency C>
void validate(const grind_source<C>& source) {
    if (source.name.empty()) throw invalid_input("name", "\"\"", "a name for the source");
    detail::require_share(source.fat, source.name + ": fat");
    if (!std::isfinite(source.price.value()))
        throw invalid_input(source.name + ": price", detail::shown(source.price.value()), "a finite price");
    detail::require_range(source.supply, source.name + ": supply");
}

/// A blend compares each source with each other one, so there are no more.
inline constexpr std::size_t most_sources = 1'000;

/// Throws `invalid_input` for no sources, more than `most_sources`, a bad one, or a name that stands twice. O(sources
/// log sources). Shares, prices and supplies are as for one source.
template <currency C>
void validate(const std::vector<grind_source<C>>& sources) {
    if (sources.empty()) throw invalid_input("sources", "none", "at least one");
    if (sources.size() > most_sources)
        throw invalid_input("sources", std::to_string(sources.size()), "at most " + std::to_string(most_sources));
    std::set<std::string_view> names;
    for (const grind_source<C>& source : sources) {
        validate(source);
        if (!names.insert(source.name).second)
            throw invalid_input("name", '"' + source.name + "\" twice", "a name of its own for each source");
    }
}

} // namespace tranche
