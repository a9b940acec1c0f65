// Standard against actual: how much of what portions cost too much is due to price, to heavy portions, and to yield.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <utility>

#include <tranche/cost/yield/purchase.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What was to be: the price that was reckoned with, and the plan that was made, which was to be cut from `bought`.
template <currency C>
struct cutting_standard {
    purchase<C> bought{};
    cutting_plan plan{};

    friend bool operator==(const cutting_standard&, const cutting_standard&) = default;
};

/// Above zero: it cost more than it should have. The three add up to `total`, exactly; each is rounded by itself but for the
/// yield, which takes the rounding.
template <currency C>
struct cost_variances {
    amount<C> allowed{}; ///< what the portions that came should have cost: at the standard's price, yield and weights
    amount<C> paid{};
    amount<C> price{}; ///< (price paid - standard price) × weight bought
    amount<C> usage{}; ///< meat in portions beyond their standard weight, at the standard's cost of portions
    amount<C>
        yield{}; ///< weight bought beyond what the standard yield needs for the weight of the portions, at its price
    amount<C> total{}; ///< paid - allowed

    friend bool operator==(const cost_variances&, const cost_variances&) = default;
};

namespace detail {

/// Weight of all portions, and what they should weigh by the mean portion of the cut of that name in `standard`; portions that
/// it does not have weigh what they should.
struct weights_in_portions {
    micrograms actual{};
    mass standard{};
};

[[nodiscard]] inline weights_in_portions weights_against(const cutting_plan& actual, const cutting_plan& standard) {
    const auto of_cut = [](const cutting_plan& cuts, const std::string& name) {
        std::pair<std::size_t, micrograms> found{};
        for (const slab& s : cuts.slabs)
            if (s.kind == slab_kind::portions && cuts.spec_of(s).name == name) {
                found.first += static_cast<std::size_t>(cuts.spec_of(s).pieces);
                found.second += s.weight();
            }
        return found;
    };
    weights_in_portions weights;
    for (const cut_spec& spec : actual.specs) {
        const auto [count, weight] = of_cut(actual, spec.name);
        const auto [of_standard, standard_weight] = of_cut(standard, spec.name);
        weights.actual += weight;
        weights.standard +=
            of_standard == 0 ? to_mass(weight)
                             : static_cast<double>(count) / static_cast<double>(of_standard) * to_mass(standard_weight);
    }
    return weights;
}

} // namespace detail

/// The variances of a loin that was cut (`plan_as_cut`) against what it was planned as. With standard price P, standard yield
/// Y (portions out of what was to be bought), weight bought B at price p, portions of weight W that should weigh S:
///
///     price = (p - P) B        usage = (W - S) P / Y        yield = (B - W / Y) P        total = p B - S P / Y
///
/// These are the price, usage (quantity) and yield variances of materials in standard costing, for one material, as
/// textbooks of cost accounting have them. By-products are left out: their credit is in the bill. Throws
/// `invalid_input` for a bad purchase, and for a standard or a loin without portions. O(specs × slabs). Money in whole
/// minor units, weights in whole micrograms.
template <currency C>
[[nodiscard]] cost_variances<C> variances_of(const cutting_plan& actual, const purchase<C>& bought,
                                             const cutting_standard<C>& standard, rounding how = rounding::half_even) {
    validate(bought);
    validate(standard.bought);
    const micrograms planned = balance_of(standard.plan).portion_total();
    if (!(planned > micrograms{})) throw invalid_input("standard.plan", "no portions", "portions to compare with");
    const detail::weights_in_portions weights = detail::weights_against(actual, standard.plan);
    if (!(weights.actual > micrograms{})) throw invalid_input("plan", "no portions", "portions that were cut");
    const fraction yield = to_mass(planned) / standard.bought.weight;
    const unit_price<C> price = standard.bought.price;
    cost_variances<C> found;
    found.paid = rounded<C>(bought.cost(), how, "paid");
    found.allowed = rounded<C>(price * (weights.standard / yield), how, "allowed");
    found.price = rounded<C>((bought.price - price) * bought.weight, how, "price variance");
    found.usage = rounded<C>(price * ((to_mass(weights.actual) - weights.standard) / yield), how, "usage variance");
    found.total = found.paid - found.allowed;
    found.yield = found.total - found.price - found.usage;
    return found;
}

} // namespace tranche
