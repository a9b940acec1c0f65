// What a study of loins is about beside the loins: what is cut and by whom, what it costs and what it is worth.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <optional>

#include <tranche/cost/savings/cutting_costs.hpp>
#include <tranche/cost/savings/ready_cut.hpp>
#include <tranche/cost/yield/purchase.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/giveaway.hpp>
#include <tranche/study/loins/cutting_hand.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What is cut, by whom, and what the cooler and the oven take.
struct loin_task {
    cutting_request request{};
    cutting_hand hand{};
    fraction purge = 0.0;         ///< of the weight as bought, lost before it is cut: 0 to less than 1
    fraction cooking_yield = 1.0; ///< cooked over raw weight of portions, 0 to 1
    charged_weights charged{};    ///< what portions are charged at, by the name of their cut; else their least weight
    std::optional<std::size_t> covers{}; ///< guests tonight

    friend bool operator==(const loin_task&, const loin_task&) = default;
};

/// Prices of a study: none of them is needed for what has no money in it.
template <currency C>
struct loin_terms {
    std::optional<unit_price<C>> price{}; ///< paid per weight as bought; none: no cost, saving and margin
    price_list<C> prices{};               ///< of portions (none: no margin) and by-products
    std::optional<ready_cut<C>> ready{};  ///< what could be bought instead; none: no saving
    cutting_costs<C> costs{};             ///< of one loin

    friend bool operator==(const loin_terms&, const loin_terms&) = default;
};

/// Throws `invalid_input` naming the field: cuts that are none, a bad hand, a purge that is not 0 to less than 1, a cooking yield
/// that is not 0 to 1, a charge for no cut. Rules are looked at on each loin.
template <class = detail::when_called>
void validate(const loin_task& task) {
    validate(task.request.cuts);
    validate(task.request.demands, task.request.cuts);
    validate(task.hand);
    if (!(task.purge >= 0.0 && task.purge < 1.0))
        throw invalid_input("purge", detail::shown(task.purge), "a share, 0 to less than 1");
    detail::require_share(task.cooking_yield, "cooking_yield");
    (void)detail::charges_of(task.request.cuts, task.charged);
}

/// Throws `invalid_input` naming the field, as `validate` of purchase, prices and costs do.
template <currency C>
void validate(const loin_terms<C>& terms) {
    if (terms.price) detail::require_price<C>(*terms.price, "price");
    if (terms.ready) detail::require_price<C>(terms.ready->price, "ready-cut price");
    validate(terms.prices);
    validate(terms.costs);
}

} // namespace tranche
