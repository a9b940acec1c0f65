// What so many portions of a line are worth, in whole billionths: concave, so that prices can speak for it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>

#include <tranche/orders/order_line.hpp>
#include <tranche/units/detail/wide_integer.hpp>

namespace tranche::detail {

/// The worth of a number of portions: straight up to each of three corners and behind the last one.
class line_worth {
public:
    static constexpr std::int64_t endless = std::int64_t{1} << 40U; ///< more portions than there are

    template <currency C>
    explicit line_worth(const order_line<C>& line) {
        const auto whole = [](double money) { return static_cast<std::int64_t>(std::llround(money * 1e9)); };
        const std::int64_t price = whole(line.price.each.value());
        slopes_ = {price + whole(line.unfilled.value()), price, whole(line.carry_over.value()),
                   whole(line.surplus.value())};
        const auto corner = [](std::int64_t n) { return std::min(n, endless); };
        corners_ = {corner(line.at_least), corner(line.at_most),
                    corner(line.at_most) + std::min(line.carried, endless - corner(line.at_most))};
        for (std::size_t k = corners_.size(); k-- > 0;) // a stretch of no length has no slope
            if (corners_[k] == (k > 0 ? corners_[k - 1] : 0)) slopes_[k] = slopes_[k + 1];
        at_zero_ = -whole(line.unfilled.value()) * corners_[0];
        std::int64_t from = 0, worth = at_zero_; // the line through each stretch, as seen from nothing made
        for (std::size_t k = 0; k < slopes_.size(); ++k) {
            starts_[k] = worth - slopes_[k] * from;
            if (k == corners_.size() || corners_[k] == endless) {
                for (std::size_t rest = k; rest < slopes_.size(); ++rest)
                    slopes_[rest] = slopes_[k], starts_[rest] = starts_[k];
                for (std::size_t rest = k; rest < corners_.size(); ++rest) corners_[rest] = endless;
                break;
            }
            worth += slopes_[k] * (corners_[k] - from);
            from = corners_[k];
        }
    }

    /// Of so many wanted, each of which costs this if it is missing; more are worth nothing.
    [[nodiscard]] static line_worth exact(std::int64_t wanted, std::int64_t unfilled) {
        line_worth line;
        line.slopes_ = {unfilled, 0, 0, 0};
        line.corners_ = {wanted, wanted, wanted};
        line.at_zero_ = line.starts_[0] = -unfilled * wanted;
        return line;
    }

    /// Of loins that are to be so many or more, or less, where each that is missing or too many costs this.
    [[nodiscard]] static line_worth at_least(std::int64_t loins, std::int64_t each) { return exact(loins, each); }
    [[nodiscard]] static line_worth at_most(std::int64_t loins, std::int64_t each) {
        line_worth line;
        line.slopes_ = {loins > 0 ? 0 : -each, -each, -each, -each};
        line.corners_ = {loins, endless, endless};
        line.starts_ = {0, each * loins, each * loins, each * loins};
        return line;
    }

    /// Of so many portions, zero or more; less than nothing made counts on as the first stretch does.
    [[nodiscard]] std::int64_t operator()(std::int64_t portions) const {
        std::int64_t least = starts_[0] + slopes_[0] * portions;
        for (std::size_t k = 1; k < slopes_.size(); ++k) least = std::min(least, starts_[k] + slopes_[k] * portions);
        return least;
    }
    /// The prices of interest: what one portion less costs at the start, and what one more is worth in the end.
    [[nodiscard]] std::int64_t highest() const {
        std::size_t k = 0;
        while (k < corners_.size() && corners_[k] == 0) ++k;
        return slopes_[k];
    }
    [[nodiscard]] std::int64_t lowest() const { return slopes_.back(); }
    /// The most that portions are worth beyond this price for each: highest where each is worth just that. The price is no less than
    /// `lowest()`.
    [[nodiscard]] wide_integer beyond(std::int64_t price) const {
        wide_integer sum = at_zero_;
        std::int64_t from = 0;
        for (std::size_t k = 0; k < corners_.size(); ++k) {
            if (slopes_[k] <= price) break;
            sum += static_cast<wide_integer>(slopes_[k] - price) * (corners_[k] - from);
            from = corners_[k];
        }
        return sum;
    }

    [[nodiscard]] const std::array<std::int64_t, 4>& slopes() const { return slopes_; }
    /// Portions at which the slope changes; `endless` where it never does.
    [[nodiscard]] const std::array<std::int64_t, 3>& corners() const { return corners_; }
    [[nodiscard]] std::int64_t wanted() const { return corners_[0]; }
    [[nodiscard]] std::int64_t at_zero() const { return at_zero_; }

    /// The same line when so many portions are made already: worths stay what they are.
    [[nodiscard]] line_worth after(std::int64_t made) const {
        line_worth rest = *this;
        for (std::int64_t& corner : rest.corners_)
            corner = corner == endless ? endless : std::max<std::int64_t>(0, corner - made);
        for (std::size_t k = 0; k < slopes_.size(); ++k) rest.starts_[k] += slopes_[k] * made;
        rest.at_zero_ = (*this)(made);
        return rest;
    }

private:
    line_worth() = default;

    std::array<std::int64_t, 4> slopes_{}, starts_{};
    std::array<std::int64_t, 3> corners_{};
    std::int64_t at_zero_ = 0;
};

} // namespace tranche::detail
