// The answer to an order: which loins to open, how to cut each, what is short, what the last portion costs, and a bound.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/units/currency.hpp>

namespace tranche {

/// Where the knife goes on one loin, in little room: cuts as a `grid_slab`, laid out when asked.
struct compact_cut {
    std::uint32_t to = 0; ///< position on the grid where the slab ends; it starts where the one before ends
    std::uint16_t option = 0;
    slab_kind kind = slab_kind::loose;

    friend bool operator==(const compact_cut&, const compact_cut&) = default;
};

/// Loins that are opened and cut alike.
struct opened_loin {
    std::size_t loin = 0;                  ///< index into the order's loins
    std::int64_t count = 1;                ///< so many of the kind
    std::int64_t worth_billionths = 0;     ///< of what one gives, but for what is paid by the piece
    std::vector<std::uint32_t> portions{}; ///< of one, by line
    std::uint32_t start = 0;               ///< position behind the facing
    std::vector<compact_cut> cuts{};       ///< from there to the sirloin face; not evened out

    friend bool operator==(const opened_loin&, const opened_loin&) = default;
};

/// Loins that stay as they are.
struct unopened_loin {
    std::size_t loin = 0;
    std::int64_t count = 1;

    friend bool operator==(const unopened_loin&, const unopened_loin&) = default;
};

/// What became of a line.
struct filled_line {
    std::int64_t made = 0;     ///< portions
    std::int64_t unfilled = 0; ///< below `at_least`
    std::int64_t carried = 0;  ///< above `at_most`, kept for tomorrow
    std::int64_t surplus = 0;  ///< above that
    std::int64_t most =
        0; ///< that all loins together give if they give nothing else; if that is below `at_least` no plan fills the line
    std::int64_t price_billionths =
        0; ///< what one portion more costs, or one less saves, at the prices that bound the plan

    friend bool operator==(const filled_line&, const filled_line&) = default;
};

/// Why planning ended.
enum class order_end {
    proven,      ///< no plan is better
    gap_reached, ///< by no more than was asked for
    gap_left,    ///< all that this library knows to try was tried
    out_of_work, ///< a limit of work was met
    stopped      ///< `order_limits::stop` said so
};

/// A plan for an order and what is known of it. Values are exact, in billionths of the currency, and relative to
/// opening nothing and making nothing: Σ (what an opened loin gives − its worth unopened) + Σ what the lines are worth
/// (`order_line`). Members throw nothing but what they say.
template <currency C>
struct order_plan {
    std::vector<opened_loin> opened{};     ///< by loin, then by plan
    std::vector<unopened_loin> unopened{}; ///< by loin
    std::vector<filled_line> lines{};      ///< as in the order
    std::int64_t value_billionths = 0;
    std::int64_t bound_billionths = 0; ///< no plan on these grids is worth more
    order_end ended = order_end::gap_left;
    std::size_t passes = 0;     ///< over all loins
    std::size_t loin_plans = 0; ///< of single loins, in samples and dives too

    static constexpr double billionths = 1e9;
    /// The value in the currency, of any sign.
    [[nodiscard]] money<C> value() const { return in_money(value_billionths); }
    /// What no plan exceeds, in the currency.
    [[nodiscard]] money<C> bound() const { return in_money(bound_billionths); }
    /// bound - value, in the currency, zero or more.
    [[nodiscard]] money<C> gap() const { return in_money(bound_billionths - value_billionths); }
    /// gap / |value|; infinite where a plan that is worth nothing leaves one. A plain number, zero or more.
    [[nodiscard]] double relative_gap() const {
        if (bound_billionths == value_billionths) return 0.0;
        return static_cast<double>(bound_billionths - value_billionths) /
               std::abs(static_cast<double>(value_billionths));
    }
    /// Whether no plan is better: value and bound are one.
    [[nodiscard]] bool proven() const { return value_billionths == bound_billionths; }
    /// Whether every line has its portions.
    [[nodiscard]] bool filled() const {
        for (const filled_line& line : lines)
            if (line.unfilled > 0) return false;
        return true;
    }
    /// What one more portion of a line costs, in the currency. Throws `std::out_of_range` for an index that no line
    /// has.
    [[nodiscard]] money<C> price(std::size_t line) const { return in_money(lines.at(line).price_billionths); }
    /// The prices of all lines, in billionths: where planning a changed order may start (`order_limits::first_prices`). Throws nothing
    /// but for lack of memory.
    [[nodiscard]] std::vector<std::int64_t> line_prices() const {
        std::vector<std::int64_t> prices;
        for (const filled_line& line : lines) prices.push_back(line.price_billionths);
        return prices;
    }
    /// Billionths of the currency as money.
    [[nodiscard]] static money<C> in_money(std::int64_t value) {
        return money<C>::from_value(static_cast<double>(value) / billionths);
    }

    friend bool operator==(const order_plan&, const order_plan&) = default;
};

/// The slabs of an opened loin on its grid, for `lay_out` and `verify`. O(slabs). Positions are those of the profile's
/// grid. Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] std::vector<grid_slab> slabs_of(const opened_loin& opened) {
    std::vector<grid_slab> slabs;
    std::size_t from = opened.start;
    for (const compact_cut& cut : opened.cuts) {
        slabs.push_back({from, cut.to, cut.kind, cut.option});
        from = cut.to;
    }
    return slabs;
}

/// The plan of an opened loin, with weights. Tabulates the loin, O(cells). Throws `invalid_input` for a plan of another order.
template <currency C>
[[nodiscard]] cutting_plan lay_out(const order<C>& wanted, const opened_loin& opened) {
    const auto [cuts, rules] = request_of(wanted, opened.loin);
    return lay_out(*wanted.loins[opened.loin].meat(), cuts, rules, slabs_of(opened));
}

} // namespace tranche
