// What is written on a bill: a whole number of minor units, made by a named rounding and split so that parts add up.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <iosfwd>
#include <limits>
#include <numeric>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/units/currency.hpp>
#include <tranche/units/detail/overflow.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/wide_integer.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// How a half minor unit is rounded: to the even neighbour (IEEE 754-2019, section 4.3) or away from zero (the
/// commercial rule).
enum class rounding { half_even, half_up };

/// An exact sum of money: a count of the minor units of `C`. Amounts of one currency add, subtract and compare; to
/// multiply, go through `money<C>` and round again by name. Sums beyond 64 bits of minor units throw `invalid_input`.
template <currency C>
struct amount {
    std::int64_t minor = 0;

    friend constexpr auto operator<=>(const amount&, const amount&) = default;
    // Sums and differences throw `invalid_input` where 64 bits do not hold them.
    friend constexpr amount operator+(amount a, amount b) {
        amount sum;
        if (detail::sum_overflows(a.minor, b.minor, sum.minor)) overflow();
        return sum;
    }
    friend constexpr amount operator-(amount a, amount b) {
        amount difference;
        if (detail::difference_overflows(a.minor, b.minor, difference.minor)) overflow();
        return difference;
    }
    friend constexpr amount operator-(amount a) { return amount{} - a; }
    constexpr amount& operator+=(amount other) { return *this = *this + other; }
    constexpr amount& operator-=(amount other) { return *this = *this - other; }

private:
    [[noreturn]] static void overflow() {
        throw invalid_input("amount of " + std::string(C::code), "a sum beyond 64 bits",
                            "one below 9.2e18 minor units");
    }
};

namespace detail {

[[nodiscard]] constexpr std::int64_t power_of_ten(int exponent) {
    std::int64_t n = 1;
    for (int i = 0; i < exponent; ++i) n *= 10;
    return n;
}

/// How many minor units make one unit of `C`: 100 for USD, 1 for JPY, 1000 for BHD.
template <currency C>
[[nodiscard]] constexpr std::int64_t minor_units_in_one() {
    return power_of_ten(C::minor_digits);
}

/// "123.61" from 12361 with two digits: exact.
[[nodiscard]] inline std::string minor_units_text(std::int64_t minor, int digits) {
    const std::uint64_t size = minor < 0 ? ~static_cast<std::uint64_t>(minor) + 1 : static_cast<std::uint64_t>(minor);
    const auto one = static_cast<std::uint64_t>(power_of_ten(digits));
    std::string text = (minor < 0 ? "-" : "") + std::to_string(size / one);
    if (one > 1) text += '.' + std::to_string(one + size % one).substr(1);
    return text;
}

/// `value` as a whole number of minor units, of which `one` make a unit; see `rounded`. Its `code` stands in errors.
[[nodiscard]] inline std::int64_t rounded_to_minor(double value, std::int64_t one, rounding how, const char* field,
                                                   std::string_view code) {
    const double scaled = unfused(value * static_cast<double>(one));
    if (!(std::abs(scaled) < 9.2e18))
        throw invalid_input(field, shown(value) + ' ' + std::string(code), "a finite sum of money");
    const double below = std::floor(scaled), rest = scaled - below;
    const bool tie = std::abs(rest - 0.5) <= std::min(0.01, 2e-15 * std::max(1.0, std::abs(scaled)));
    const auto low = static_cast<std::int64_t>(below);
    if (!tie) return rest < 0.5 ? low : low + 1;
    if (how == rounding::half_even) return low % 2 == 0 ? low : low + 1;
    return scaled < 0.0 ? low : low + 1;
}

} // namespace detail

/// "123.61 USD", "1200 JPY": exact. The code is of ISO 4217. Any amount; throws nothing but for lack of memory.
template <currency C>
[[nodiscard]] std::string to_text(amount<C> a) {
    return detail::minor_units_text(a.minor, C::minor_digits) + ' ' + std::string(C::code);
}

/// As `to_text` has it.
template <class Traits, currency C>
std::basic_ostream<char, Traits>& operator<<(std::basic_ostream<char, Traits>& out, amount<C> a) {
    return out << to_text(a);
}

/// The amount as working money. Any amount, not rounded: the nearest double. Throws nothing. O(1).
template <currency C>
[[nodiscard]] constexpr money<C> to_money(amount<C> a) {
    return money<C>::from_value(static_cast<double>(a.minor) / static_cast<double>(detail::minor_units_in_one<C>()));
}

/// `value` to the nearest minor unit. A value within two parts in 10^15 of a half counts as a half, because 0.145 and
/// its like have no exact binary form. Throws `invalid_input` naming `field` for NaN and for more than 9.2e18 minor
/// units. `how` says where an exact half goes. Source of half-even: IEEE 754-2019, 4.3.1, "roundTiesToEven". O(1).
template <currency C>
[[nodiscard]] amount<C> rounded(money<C> value, rounding how, const char* field = "money") {
    return {detail::rounded_to_minor(value.value(), detail::minor_units_in_one<C>(), how, field, C::code)};
}

/// The same, of whichever currency the money is: `rounded(7.905_usd, rounding::half_even)`.
template <detail::any_money Money>
[[nodiscard]] auto rounded(Money value, rounding how, const char* field = "money") {
    return rounded<detail::currency_of<Money>>(value, how, field);
}

namespace detail {

/// Splits `total` in proportion to whole, non-negative `weights` by largest remainder (Hamilton's method of 1790): each
/// part gets the floor of its quota, and the units left over go to the largest remainders, ties to the earlier part.
/// The parts always add up to `total`; a negative total is split as its opposite. Exact in 128-bit integers.
/// Throws `invalid_input` for a negative weight, for weights that add up to zero, or to more than 9.2e18.
/// O(n log n).
[[nodiscard]] inline std::vector<std::int64_t> split_by_largest_remainder(std::int64_t total,
                                                                          std::span<const std::int64_t> weights) {
    using wide = wide_integer;
    wide sum = 0;
    for (const std::int64_t w : weights) {
        if (w < 0) throw invalid_input("weights", std::to_string(w), "no negative weight");
        sum += w;
    }
    if (sum == 0) throw invalid_input("weights", weights.empty() ? "none" : "only zeros", "at least one above zero");
    if (sum > std::numeric_limits<std::int64_t>::max())
        throw invalid_input("weights", "a sum beyond 64 bits", "weights that add up to less than 9.2e18");

    const wide sign = total < 0 ? -1 : 1, magnitude = sign * total;
    std::vector<std::int64_t> parts(weights.size()), remainders(weights.size());
    wide given = 0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
        const wide product = magnitude * weights[i];
        parts[i] = static_cast<std::int64_t>(sign * (product / sum));
        remainders[i] = static_cast<std::int64_t>(product % sum);
        given += product / sum;
    }
    std::vector<std::size_t> order(weights.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return remainders[a] > remainders[b]; });
    for (std::size_t k = 0; given < magnitude; ++k, ++given) parts[order[k]] += total < 0 ? -1 : 1;
    return parts;
}

} // namespace detail

/// `total` split in proportion to `weights` by largest remainder; see `split_by_largest_remainder`. Weights are plain
/// whole numbers, each zero or more and not all zero; ties go to the earlier one, and the parts add up to `total`.
/// Throws `invalid_input` for other weights. O(n log n).
template <currency C>
[[nodiscard]] std::vector<amount<C>> split(amount<C> total, std::span<const std::int64_t> weights) {
    std::vector<amount<C>> parts;
    for (const std::int64_t part : detail::split_by_largest_remainder(total.minor, weights)) parts.push_back({part});
    return parts;
}

} // namespace tranche

template <tranche::currency C>
struct std::hash<tranche::amount<C>> {
    [[nodiscard]] std::size_t operator()(tranche::amount<C> a) const noexcept {
        return std::hash<std::int64_t>{}(a.minor);
    }
};
