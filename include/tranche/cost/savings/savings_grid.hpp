// What if the loin cost more, or yielded less: the net saving over a grid of prices and yields.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cost/savings/break_even.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// Net savings at other prices paid (columns) and other yields of portions (rows).
template <currency C>
struct savings_grid {
    std::vector<unit_price<C>> prices;                  ///< of the whole loin
    std::vector<fraction> yields;                       ///< portions out of what is bought
    std::vector<std::vector<amount<C>>> net_saving;     ///< yields × prices
    std::vector<break_even<unit_price<C>>> break_evens; ///< the price that breaks even, at each yield
    unit_price<C> price{};                              ///< as it was paid
    fraction yield = 0.0;                               ///< as it was cut
    std::string against{};                              ///< the name of the ready-cut meat

    friend bool operator==(const savings_grid&, const savings_grid&) = default;
};

/// middle - n step … middle … middle + n step, those left out that are below `least` or above `most`, but for `middle` itself;
/// rising. A value within a billionth of a step of either bound is the bound, because 0.3 - 3 × 0.1 is not quite zero. `step`
/// is above zero. Throws `invalid_input` for values that are not finite, a bad step, and more than 100 on each side.
/// O(n). Any quantity, or a plain number; `n` is 0 to 100.
template <class Quantity>
[[nodiscard]] std::vector<Quantity> stepped(Quantity middle, std::type_identity_t<Quantity> step, int n,
                                            std::type_identity_t<Quantity> least = {},
                                            std::type_identity_t<std::optional<Quantity>> most = {}) {
    const double raw_step = detail::raw(step);
    if (!std::isfinite(detail::raw(middle)))
        throw invalid_input("middle", detail::shown(detail::raw(middle)), "a finite value");
    if (!(std::isfinite(raw_step) && raw_step > 0.0))
        throw invalid_input("step", detail::shown(raw_step), "a step above zero");
    if (n < 0 || n > 100) throw invalid_input("steps", std::to_string(n), "0 to 100 on each side");
    std::vector<Quantity> values;
    for (int k = -n; k <= n; ++k) {
        Quantity value = middle + detail::unfused(static_cast<double>(k) * step);
        if (k != 0) {
            const Quantity near = detail::unfused(1e-9 * step);
            if (value > least - near && value < least + near) value = least;
            if (most && value > *most - near && value < *most + near) value = *most;
            if (value < least || (most && value > *most)) continue;
        }
        values.push_back(value);
    }
    return values;
}

/// The net saving at each yield and price, all else as it is (`savings_terms::at_yield` says what moves with the yield).
/// Each cell is the net saving and what changes from there, rounded; so the cell of the price paid and the yield cut is
/// the figure of the bill itself, and every other one is within the rounding of its lines of a bill of its own.
///
/// Throws `invalid_input` for no prices or yields, a price that is negative or not finite, a yield that is not above 0
/// and at most 1 (the yield cut itself may be above 1 within the tolerance of the scales), a saving without portions,
/// and sums beyond 64 bits. O(prices × yields). Prices are money by mass, yields shares, cells whole minor units.
/// Source: `savings_terms`.
template <currency C>
[[nodiscard]] savings_grid<C> tabulate_savings(const savings<C>& saved, std::vector<unit_price<C>> prices,
                                               std::vector<fraction> yields, rounding how = rounding::half_even) {
    if (prices.empty()) throw invalid_input("prices", "none", "at least one");
    if (yields.empty()) throw invalid_input("yields", "none", "at least one");
    for (const unit_price<C>& p : prices) detail::require_monetary<C>(p, "price of the whole loin", "/kg");
    const savings_terms<C>& terms = saved.terms;
    validate(terms);
    for (const fraction y : yields)
        if (!(y > 0.0 && (y <= 1.0 || y == terms.yield())))
            throw invalid_input("yield", detail::shown(y), "a share above 0, at most 1");
    savings_grid<C> table{.prices = std::move(prices),
                          .yields = std::move(yields),
                          .net_saving = {},
                          .break_evens = {},
                          .price = terms.bought.price,
                          .yield = terms.yield(),
                          .against = saved.against};
    for (const fraction y : table.yields) {
        // No detour where nothing changes, so that the last bits cannot move the figure of the bill.
        const savings_terms<C> there = y == table.yield ? terms : terms.at_yield(y);
        table.break_evens.push_back(break_even_price(there));
        std::vector<amount<C>> row;
        for (const unit_price<C>& p : table.prices)
            row.push_back(saved.net_saving +
                          rounded<C>(there.at_price(p).net_saving() - terms.net_saving(), how, "change of the saving"));
        table.net_saving.push_back(row);
    }
    return table;
}

} // namespace tranche
