// Offers compared: two suppliers, trimmed against untrimmed, other grades and weights, by what an edible portion costs.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/break_even.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// Something that can be bought, and what comes of it.
template <currency C>
struct offer {
    std::string name{};   ///< supplier, cut and grade, as the caller tells them apart
    purchase<C> bought{}; ///< weight and price
    mass portions{};      ///< what it gives in portions, above zero, at most the weight bought but for the tolerance
    fraction edible_share = 1.0; ///< what is wanted of the portions, above 0 to 1
    money<C> credit{};           ///< what the rest is worth
    money<C> costs{};            ///< of making portions of it: work, packaging …; zero or more
    weighing_tolerance scale_tolerance{};

    friend bool operator==(const offer&, const offer&) = default;
};

/// Throws `invalid_input`, naming offer and field, for no portions or none of them edible, a bad price or weight, and what
/// is not finite. A weight is above zero, a price zero or more, an edible share above 0 to 1.
template <currency C>
void validate(const offer<C>& o) {
    const std::string where = o.name + ": ";
    if (!(o.bought.weight > mass{} && std::isfinite(o.bought.weight.value())))
        throw invalid_input(where + "weight", o.bought.weight, "a finite weight above zero");
    detail::require_monetary<C>(o.bought.price, where + "price", "/kg");
    validate(o.scale_tolerance);
    detail::require_positive(o.portions, where + "portions");
    detail::require_not_heavier(o.portions, o.bought.weight, o.scale_tolerance, where + "portions",
                                "above zero, at most the weight bought, ");
    if (!(o.edible_share > 0.0 && o.edible_share <= 1.0))
        throw invalid_input(where + "edible_share", detail::shown(o.edible_share), "a share above 0, at most 1");
    if (!std::isfinite(o.credit.value()))
        throw invalid_input(where + "credit", detail::shown(o.credit.value()), "a finite value");
    detail::require_monetary<C>(o.costs, where + "costs", "");
}

/// An offer that was cut and weighed. `edible_share` is what of the portions is wanted, above 0 to 1, and `costs` are
/// those of cutting, zero or more. Throws nothing: `rank_offers` checks. O(1).
template <currency C>
[[nodiscard]] offer<C> offer_of(std::string name, const yield_test<C>& test, fraction edible_share = 1.0,
                                money<C> costs = {}) {
    return {.name = std::move(name),
            .bought = test.purchase,
            .portions = to_mass(test.usable),
            .edible_share = edible_share,
            .credit = test.purchase.cost() - test.unrounded_primary_value,
            .costs = costs,
            .scale_tolerance = test.scale_tolerance};
}

/// An offer that was planned. All of the plan's portions count, and what is wanted of them. A plan without portions gives an
/// offer without portions, which cannot be ranked. `settled` is the bill of `cuts`. Throws `invalid_input` for bad
/// costs or a bad basis. O(slabs). Costs are zero or more, as `validate` of `cutting_costs` has it.
template <currency C>
[[nodiscard]] offer<C> offer_of(std::string name, const cutting_plan& cuts, const bill<C>& settled,
                                const edible_basis& basis = {}, const cutting_costs<C>& costs = {}) {
    validate(costs);
    mass wanted{}, all{};
    std::size_t count = 0;
    for (const own_portions& o : own_portions_of(cuts, basis)) {
        wanted += detail::unfused(o.edible_share * to_mass(o.weight));
        all += to_mass(o.weight);
        count += o.count;
    }
    const fraction share = all > mass{} ? fraction(wanted / all) : 1.0;
    return offer_of(std::move(name), settled.test, share,
                    costs.labour() + costs.of_portions(static_cast<double>(count), all) + costs.knife_wear);
}

/// What is known of an offer that was neither tested nor planned.
template <currency C>
struct known_yield {
    fraction yield = 0.0;        ///< of portions, above 0 to 1
    unit_price<C> rest{};        ///< what a weight of everything else is worth
    fraction edible_share = 1.0; ///< what of the portions is wanted, above 0 to 1
    money<C> costs{};            ///< of cutting all of it; zero or more

    friend bool operator==(const known_yield&, const known_yield&) = default;
};

/// An offer of which only the yield of portions is known: `offer_at_yield("butcher", bought, {.yield = 0.7})`. Throws
/// `invalid_input` for a yield that is not above 0 and at most 1. A share of the weight bought. Throws nothing else:
/// `rank_offers` checks the rest. O(1).
template <currency C>
[[nodiscard]] offer<C> offer_at_yield(std::string name, const purchase<C>& bought, const known_yield<C>& known) {
    if (!(known.yield > 0.0 && known.yield <= 1.0))
        throw invalid_input(name + ": yield", detail::shown(known.yield), "a share above 0, at most 1");
    return {.name = std::move(name),
            .bought = bought,
            .portions = known.yield * bought.weight,
            .edible_share = known.edible_share,
            .credit = detail::unfused((1.0 - known.yield) * bought.weight * known.rest),
            .costs = known.costs};
}

/// An offer in its place among others.
template <currency C>
struct ranked_offer {
    std::size_t index = 0; ///< in the list of offers
    std::size_t rank = 0;  ///< from 1; offers that cost the same have the same
    tranche::offer<C> offer{};
    mass edible{};                       ///< what is wanted of its portions
    double portions = 0.0;               ///< edible portions that this makes, not rounded
    unit_price<C> edible_portion_cost{}; ///< (price × weight - credit + costs) / edible
    amount<C> cost_per_portion{};        ///< of an edible portion, rounded
    std::optional<unit_price<C>>
        worth_up_to{}; ///< the price at which it costs what the best of the others does; none where
                       ///< there is no other, or only a price below zero would do

    friend bool operator==(const ranked_offer&, const ranked_offer&) = default;
};

/// Ranks offers by what an edible portion costs, the cheapest first. `portion` is the weight of what is wanted in one
/// portion: a 12 oz steak of which 80 % is wanted has 9.6 oz. Costs are compared to a millionth of the minor unit; offers
/// that are equal then share a rank and stay in the order given.
///
/// Throws `invalid_input` for no offers, a bad offer, a portion that is not above zero, and costs beyond 64 bits.
/// O(offers log offers). Costs are money for a portion, rounded to the minor unit as `how` says. Ranking by that is
/// common practice, no source.
template <currency C>
[[nodiscard]] std::vector<ranked_offer<C>> rank_offers(const std::vector<offer<C>>& offers, mass portion,
                                                       rounding how = rounding::half_even) {
    if (offers.empty()) throw invalid_input("offers", "none", "at least one");
    detail::require_positive(portion, "portion");
    std::vector<ranked_offer<C>> ranked;
    std::vector<std::int64_t> keys;
    for (std::size_t i = 0; i < offers.size(); ++i) {
        const offer<C>& o = offers[i];
        validate(o);
        ranked_offer<C> entry{.index = i, .offer = o, .edible = o.edible_share * o.portions};
        entry.portions = entry.edible / portion;
        entry.edible_portion_cost = (o.bought.cost() - o.credit + o.costs) / entry.edible;
        const money<C> cost = entry.edible_portion_cost * portion;
        const std::string field = o.name + ": cost of a portion";
        entry.cost_per_portion = rounded<C>(cost, how, field.c_str());
        keys.push_back(rounded<C>(1e6 * cost, rounding::half_up, field.c_str()).minor);
        ranked.push_back(entry);
    }
    std::stable_sort(ranked.begin(), ranked.end(),
                     [&](const auto& a, const auto& b) { return keys[a.index] < keys[b.index]; });
    for (std::size_t k = 0; k < ranked.size(); ++k) {
        ranked_offer<C>& entry = ranked[k];
        const bool tied = k > 0 && keys[entry.index] == keys[ranked[k - 1].index];
        entry.rank = tied ? ranked[k - 1].rank : k + 1;
        if (ranked.size() == 1) continue;
        const offer<C>& o = entry.offer;
        const unit_price<C> best = ranked[k == 0 ? 1 : 0].edible_portion_cost;
        const unit_price<C> even = (detail::unfused(best * entry.edible) + o.credit - o.costs) / o.bought.weight;
        if (even >= unit_price<C>{}) entry.worth_up_to = even;
    }
    return ranked;
}

} // namespace tranche
