// What the engine needs to know of a score, and scores of several parts of which the first decides.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <concepts>
#include <limits>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/units/quantity.hpp>

namespace tranche {

/// Whether a score can rank plans: neither NaN nor infinite. A score type of your own has a function of this name beside
/// it, found by the type's namespace; `friend bool is_finite(const my_score& s) { return is_finite(s.part); }` will do.
/// Throws nothing.
template <class T>
requires std::is_arithmetic_v<T>
[[nodiscard]] constexpr bool is_finite(T score) {
    if constexpr (std::is_floating_point_v<T>)
        return std::isfinite(score);
    else
        return true;
}
/// The same of a quantity, whatever its unit. Throws nothing.
template <class Unit, class Number>
[[nodiscard]] constexpr bool is_finite(const boost::units::quantity<Unit, Number>& score) {
    return is_finite(score.value());
}

/// Whether a score forbids the slab that it is of: -infinity does, and so does a `lexicographic_score` with a part that is,
/// unless another part is NaN or +infinity. A score type of your own forbids nothing, unless a function of this name stands
/// beside it; what is forbidden then is less than what is not, and stays forbidden whatever finite score is added.
/// Throws nothing.
template <class T>
[[nodiscard]] constexpr bool forbids(const T& score) {
    if constexpr (std::is_floating_point_v<T>)
        return score == -std::numeric_limits<T>::infinity();
    else
        return false;
}
/// The same of a quantity, whatever its unit. Throws nothing.
template <class Unit, class Number>
[[nodiscard]] constexpr bool forbids(const boost::units::quantity<Unit, Number>& score) {
    return forbids(score.value());
}

/// Whether no score of the type can be anything but finite, so that the engine need not look.
template <class Score>
inline constexpr bool always_finite = std::is_integral_v<Score>;

/// A score: default-constructed it is zero; scores add, have a total order, and know whether they are finite; more is
/// better. Numbers and quantities are scores, and so is `lexicographic_score`.
template <class S>
concept additive_score = std::regular<S> && requires(const S& a, const S& b) {
    { a + b } -> std::convertible_to<S>;
    { a < b } -> std::convertible_to<bool>;
    { is_finite(a) } -> std::convertible_to<bool>;
};

/// Several scores of which the first decides; the second counts among equals, and so on. Each part has all the bits of its
/// own type: parts of 64 bits do not share them. Adds part by part. One that `forbids` is below all that do not, however good
/// the parts before the one that is -infinity.
template <additive_score... Parts>
requires(sizeof...(Parts) >= 2) struct lexicographic_score {
    std::tuple<Parts...> parts{};

    friend constexpr bool operator==(const lexicographic_score&, const lexicographic_score&) = default;
    friend constexpr bool operator<(const lexicographic_score& a, const lexicographic_score& b) {
        if constexpr (!always_finite<lexicographic_score>)
            if (const bool out = forbids(a); out != forbids(b)) return out;
        return a.parts < b.parts;
    }
    friend constexpr lexicographic_score operator+(const lexicographic_score& a, const lexicographic_score& b) {
        return [&]<std::size_t... I>(std::index_sequence<I...>) {
            return lexicographic_score{{(std::get<I>(a.parts) + std::get<I>(b.parts))...}};
        }
        (std::index_sequence_for<Parts...>{});
    }
    /// Whether all parts are. Throws nothing.
    friend constexpr bool is_finite(const lexicographic_score& s) {
        return std::apply([](const Parts&... part) { return (is_finite(part) && ...); }, s.parts);
    }
    /// Whether it forbids its slab, as said above. Throws nothing.
    friend constexpr bool forbids(const lexicographic_score& s) {
        return std::apply(
            [](const Parts&... part) { return (forbids(part) || ...) && ((is_finite(part) || forbids(part)) && ...); },
            s.parts);
    }
};

template <class... Parts>
inline constexpr bool always_finite<lexicographic_score<Parts...>> = (always_finite<Parts> && ...);

namespace detail {

/// A score as numbers for people and tables, part by part; none for a type of a user's own.
template <additive_score Score>
[[nodiscard]] std::vector<double> numbers_of(const Score& score) {
    if constexpr (std::is_arithmetic_v<Score>)
        return {static_cast<double>(score)};
    else if constexpr (requires {
                           { score.value() } -> std::convertible_to<double>;
                       })
        return {static_cast<double>(score.value())};
    else if constexpr (requires { score.parts; })
        return std::apply(
            [](const auto&... part) {
                std::vector<double> all;
                const auto append = [&](const std::vector<double>& more) {
                    all.insert(all.end(), more.begin(), more.end());
                };
                (append(numbers_of(part)), ...);
                return all;
            },
            score.parts);
    else
        return {};
}

/// A score that is one number, as that; otherwise NaN.
template <additive_score Score>
[[nodiscard]] double number_of(const Score& score) {
    const std::vector<double> numbers = numbers_of(score);
    return numbers.size() == 1 ? numbers.front() : std::numeric_limits<double>::quiet_NaN();
}

} // namespace detail

} // namespace tranche
