// What the edible part of a plan's portions costs by weight.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <optional>

#include <tranche/cost/savings/edible_basis.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// (paid - credit for by-products) / Σ portions weight × what is wanted of it: what a pound or kilogram on the plate
/// cost raw, fat and tail that stay on but do not count left out. None if nothing of the portions counts, or there are
/// none. `settled` is the bill of `cuts`. Throws `invalid_input` for a bad basis. O(slabs). Money per mass, not
/// rounded; below zero where the by-products are worth more than the loin. Counts of the basis are shares of a tissue's
/// mass, 0 to 1, and not all zero. Common practice, no source.
template <currency C>
[[nodiscard]] std::optional<unit_price<C>> edible_portion_cost(const cutting_plan& cuts, const bill<C>& settled,
                                                               const edible_basis& basis = {}) {
    validate(basis);
    mass wanted{};
    for (const own_portions& own : own_portions_of(cuts, basis))
        wanted += detail::unfused(own.edible_share * to_mass(own.weight));
    if (!(wanted > mass{})) return std::nullopt;
    return unit_price<C>(settled.test.unrounded_primary_value / wanted);
}

} // namespace tranche
