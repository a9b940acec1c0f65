// From a plan to a bill: every part of the purchase with its weight and value, and what each portion cost.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include <tranche/cost/purchase.hpp>
#include <tranche/cost/yield_test.hpp>
#include <tranche/cut/plan.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/units/amount.hpp>

namespace tranche {

/// One portion and its share of the cost.
template <currency C>
struct costed_portion {
    std::size_t slab = 0, spec = 0; ///< indices into the plan's slabs and specs
    micrograms weight{};
    amount<C> cost{};
};

/// What a plan came to. The weights of the test's lines add up to the purchase, the costs of the portions to its
/// primary value, both exactly.
template <currency C>
struct bill {
    yield_test<C> test;
    std::vector<costed_portion<C>> portions;
    micrograms purge{}; ///< bought but not on the board: purchase - plan
};

/// Settles a plan: purchase = purge + portions + loose meat and trim by destination + cutting loss. By-products are
/// credited at the values of the list; the rest of what was paid is shared out among the portions by weight, by largest
/// remainder. If there are no portions nothing carries it, and the primary value is the loss of the day.
///
/// Throws `invalid_input` for a bad purchase or value, and for a purchase that weighs less than what was cut.
/// O(slabs + portions log portions).
template <currency C>
[[nodiscard]] bill<C> settle(const plan& cuts, const purchase<C>& bought, const price_list<C>& prices = {},
                             rounding how = rounding::half_even) {
    validate(bought);
    validate(prices);
    bill<C> result;
    result.purge = to_micrograms(bought.weight, "purchase.weight") - cuts.total;
    if (result.purge < micrograms{})
        throw invalid_input("purchase.weight", rounded_down(bought.weight),
                            sentence("at least the weight that was cut, ") + rounded_up(to_mass(cuts.total)));

    const mass_balance balance = balance_of(cuts);
    std::vector<weighed_part<C>> parts;
    for (std::size_t s = 0; s < cuts.specs.size(); ++s)
        if (balance.portions[s].count > 0)
            parts.push_back({cuts.specs[s].name, to_mass(balance.portions[s]), part_role::usable, {}});
    const auto by_products = [&](const by_destination<micrograms>& masses, const char* kind) {
        for (const destination d : all_destinations)
            if (masses[d].count > 0)
                parts.push_back({std::string(kind) + " to " + std::string(name_of(d)), to_mass(masses[d]),
                                 part_role::by_product, prices.by_products[d], std::string(name_of(d))});
    };
    by_products(balance.loose, "loose meat");
    by_products(balance.trim, "trim");
    if (balance.cutting_loss.count > 0)
        parts.push_back({"cutting loss", to_mass(balance.cutting_loss), part_role::loss, {}});
    if (result.purge.count > 0) parts.push_back({"purge", to_mass(result.purge), part_role::loss, {}});
    result.test = cutting_yield_test(bought, parts, mass{}, how);

    std::vector<std::int64_t> weights;
    for (std::size_t i = 0; i < cuts.slabs.size(); ++i)
        for (const micrograms weight : cuts.portions_of(cuts.slabs[i])) {
            result.portions.push_back({i, cuts.slabs[i].option, weight, {}});
            weights.push_back(weight.count);
        }
    if (result.test.usable.count > 0) {
        const std::vector<amount<C>> costs = split(result.test.primary_value, std::span<const std::int64_t>(weights));
        for (std::size_t k = 0; k < costs.size(); ++k) result.portions[k].cost = costs[k];
    }
    return result;
}

} // namespace tranche
