// What became of a loin that was cut: portions outside of their limits put where they go, then weights and money.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/plan_worth.hpp>
#include <tranche/study/loins/detail/drawn_loin.hpp>
#include <tranche/study/loins/loin_output.hpp>
#include <tranche/study/loins/loin_terms.hpp>
#include <tranche/study/run/study_model.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche::detail {

/// Writes into the outputs of one loin.
class loin_figures {
public:
    explicit loin_figures(std::span<std::int64_t> outputs) : outputs_(outputs) {}
    [[nodiscard]] std::int64_t& operator[](loin_output what) { return outputs_[static_cast<std::size_t>(what)]; }

private:
    std::span<std::int64_t> outputs_;
};

/// part / whole in millionths, to the nearest; below a whole of 9.2e18.
[[nodiscard]] inline std::int64_t millionths(std::int64_t part, std::int64_t whole) {
    return std::llround(1e6 * (static_cast<double>(part) / static_cast<double>(whole)));
}

/// Takes off a slab what is above a weight, of each tissue as much as there is of it.
inline void trim_down(slab& s, std::int64_t limit) {
    const std::int64_t over = s.weight().count - limit;
    if (over <= 0) return;
    std::vector<std::int64_t> shares;
    for (const tissue t : all_tissues) shares.push_back(s.kept[t].count);
    const std::vector<std::int64_t> off = split_by_largest_remainder(over, shares);
    for (const tissue t : all_tissues) {
        const micrograms some{off[static_cast<std::size_t>(t)]};
        s.kept[t] -= some;
        s.trim[t] += some;
    }
}

/// How a slab of portions keeps the limits of its cut, of weight by the whole microgram and of thickness to a nanometre; limits of
/// thickness that are narrower than a `step` of the grid to half a step, as plans do.
enum class kept_limits { all, too_heavy, no };
[[nodiscard]] inline kept_limits limits_kept(const slab& s, const cut_spec& cut, bool judge_thickness, length step) {
    const bool narrow = cut.thickness.max - cut.thickness.min < step;
    const length slack = (narrow ? 0.5 * step : length{}) + 1e-9 * metre;
    constexpr fraction more = 1e-9;
    const auto limit = [&](mass of_portion) {
        return of_portion < unlimited<mass>() ? to_micrograms(of_portion).count * cut.pieces
                                              : std::numeric_limits<std::int64_t>::max();
    };
    if (judge_thickness && !(cut.thickness.min - slack <= s.thickness && s.thickness <= cut.thickness.max + slack))
        return kept_limits::no;
    if (s.gluteus_medius_towards_rib > cut.gluteus_medius.towards_rib + more ||
        s.gluteus_medius_towards_sirloin > cut.gluteus_medius.towards_sirloin + more)
        return kept_limits::no;
    const std::int64_t weight = s.weight().count;
    if (weight < limit(cut.portion.min)) return kept_limits::no;
    return weight <= limit(cut.portion.max) ? kept_limits::all : kept_limits::too_heavy;
}

/// Counts the portions of a plan as it was carried out, and puts those that do not keep their limits where they go: too heavy ones
/// are trimmed down, others are loose meat of the first kind.
inline void judge(cutting_plan& cut, const loin_task& task, const drawn_loin& drawn, std::span<const mass> charges,
                  length step, loin_figures& figures) {
    std::int64_t portions = 0, within = 0, sold = 0, in_portions = 0, giveaway = 0;
    std::int64_t lightest = std::numeric_limits<std::int64_t>::max(), heaviest = 0;
    bool charged = false;
    for (slab& s : cut.slabs) {
        if (s.kind != slab_kind::portions) continue;
        const cut_spec& spec = cut.spec_of(s);
        const std::int64_t weight = s.weight().count, pieces = spec.pieces;
        portions += pieces;
        in_portions += weight;
        lightest = std::min(lightest, weight / pieces);
        heaviest = std::max(heaviest, (weight + pieces - 1) / pieces);
        switch (limits_kept(s, spec, task.hand.knife.judge_thickness, step)) {
        case kept_limits::all: within += pieces; break;
        case kept_limits::too_heavy: trim_down(s, to_micrograms(spec.portion.max).count * pieces); break;
        case kept_limits::no:
            s.kind = slab_kind::loose;
            s.option = 0;
            continue;
        }
        sold += pieces;
        if (const mass charge = charges[s.option]; charge > mass{}) {
            charged = true;
            giveaway += std::max(std::int64_t{0}, s.weight().count - pieces * to_micrograms(charge).count);
        }
    }
    figures[loin_output::portions] = portions;
    figures[loin_output::portions_within] = within;
    if (portions > 0) {
        figures[loin_output::share_within] = millionths(within, portions);
        figures[loin_output::portion_weight] = in_portions / portions;
        figures[loin_output::lightest_portion] = lightest;
        figures[loin_output::heaviest_portion] = heaviest;
        figures[loin_output::cooked_portion] =
            std::llround(drawn.cooking_yield * static_cast<double>(in_portions) / static_cast<double>(portions));
    }
    if (charged) figures[loin_output::giveaway] = giveaway;
    if (task.covers || drawn.covers > 0.0)
        figures[loin_output::covers_short] =
            std::max(std::int64_t{0}, static_cast<std::int64_t>(std::llround(drawn.covers)) - sold);
}

/// Terms with the factors that were drawn; of prices that do not vary as they are.
template <currency C>
class drawn_terms {
public:
    explicit drawn_terms(const loin_terms<C>& terms) : stated_(&terms), drawn_(terms) {}
    const loin_terms<C>& of(const drawn_loin& by) {
        if (by.price == price_ && by.portion_prices == portions_ && by.by_product_values == by_products_ &&
            by.ready_price == ready_)
            return drawn_;
        price_ = by.price;
        portions_ = by.portion_prices;
        by_products_ = by.by_product_values;
        ready_ = by.ready_price;
        if (drawn_.price) *drawn_.price = price_ * *stated_->price;
        if (drawn_.ready) drawn_.ready->price = ready_ * stated_->ready->price;
        auto stated = stated_->prices.portions.begin();
        for (auto& [cut, price] : drawn_.prices.portions) {
            price.by_weight = portions_ * stated->second.by_weight;
            price.each = portions_ * stated->second.each;
            ++stated;
        }
        for (const destination d : all_destinations)
            if (drawn_.prices.by_products[d])
                *drawn_.prices.by_products[d] = by_products_ * *stated_->prices.by_products[d];
        return drawn_;
    }

private:
    const loin_terms<C>* stated_;
    loin_terms<C> drawn_;
    double price_ = 1.0, portions_ = 1.0, by_products_ = 1.0, ready_ = 1.0;
};

/// The money of a judged plan, as `settle`, `make_or_buy` and `worth_of` have it. `all_priced` says that each cut has a price.
template <currency C>
void account(const cutting_plan& cut, micrograms bought, const loin_terms<C>& terms, bool all_priced,
             loin_figures& figures) {
    const std::size_t sold = cut.portion_count();
    const micrograms in_portions = balance_of(cut).portion_total();
    figures[loin_output::yield] = millionths(in_portions.count, bought.count);
    if (!terms.price) return;
    const purchase<C> paid{.weight = to_mass(bought), .price = *terms.price};
    const bill<C> settled = settle<C>(cut, paid, terms.prices);
    if (sold > 0)
        figures[loin_output::cost_per_portion] =
            std::llround(static_cast<double>(settled.test.primary_value.minor) / static_cast<double>(sold));
    if (terms.ready)
        figures[loin_output::saving] =
            make_or_buy<C>(*terms.ready, cut, settled, {.prices = terms.prices, .costs = terms.costs}).net_saving.minor;
    if (!all_priced) return;
    const money<C> costs = terms.costs.labour() +
                           terms.costs.of_portions(static_cast<double>(sold), to_mass(in_portions)) +
                           terms.costs.knife_wear;
    figures[loin_output::margin] =
        rounded<C>(worth_of<C>(cut, terms.prices) - paid.cost() - costs, rounding::half_even, "margin").minor;
}

} // namespace tranche::detail
