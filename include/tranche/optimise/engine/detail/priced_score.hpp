// Scores as the numbers they are made of, and one of those numbers with prices on slabs and on the numbers before it: what a
// relaxation maximises.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/score.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// References to the parts of a score that have no parts of their own, the first to count first.
template <class Score>
[[nodiscard]] constexpr auto leaves_of(Score& score) {
    if constexpr (requires { score.parts; })
        return std::apply([](auto&... part) { return std::tuple_cat(leaves_of(part)...); }, score.parts);
    else
        return std::tuple<Score&>(score);
}
template <class Score>
using leaves_type = decltype(leaves_of(std::declval<Score&>()));
template <class Score>
inline constexpr std::size_t leaf_count = std::tuple_size_v<leaves_type<Score>>;
template <class Score, std::size_t I>
using leaf_type = std::remove_cvref_t<std::tuple_element_t<I, leaves_type<Score>>>;

template <class T>
inline constexpr bool is_quantity = false;
template <class Unit, class Number>
inline constexpr bool is_quantity<boost::units::quantity<Unit, Number>> = std::is_arithmetic_v<Number>;

/// A score that is a number: it has a price.
template <class T>
concept number_score = std::is_arithmetic_v<T> || is_quantity<T>;

template <number_score T>
[[nodiscard]] constexpr auto plain(const T& score) {
    if constexpr (is_quantity<T>)
        return score.value();
    else
        return score;
}
template <number_score T, class Number>
[[nodiscard]] constexpr T as_score(Number number) {
    if constexpr (is_quantity<T>)
        return T::from_value(static_cast<typename T::value_type>(number));
    else if constexpr (std::is_integral_v<T> && sizeof(T) < sizeof(Number))
        return static_cast<T>(std::clamp(number, static_cast<Number>(std::numeric_limits<T>::min()),
                                         static_cast<Number>(std::numeric_limits<T>::max())));
    else
        return static_cast<T>(number);
}

/// A product in a sum, of whole numbers or of others.
template <class Number>
[[nodiscard]] constexpr Number product_of(Number a, Number b) {
    if constexpr (std::is_integral_v<Number>)
        return a * b;
    else
        return unfused(a * b);
}

/// Whether the first so many leaves are numbers.
template <class Score, std::size_t Count>
inline constexpr bool numbers_first = []<std::size_t... I>(std::index_sequence<I...>) {
    return (number_score<leaf_type<Score, I>> && ...);
}
(std::make_index_sequence<Count>{});

/// Whether the first so many leaves are whole numbers.
template <class Score, std::size_t Count>
inline constexpr bool whole_numbers_first = []<std::size_t... I>(std::index_sequence<I...>) {
    return (std::is_integral_v<leaf_type<Score, I>> && ...);
}
(std::make_index_sequence<Count>{});

/// By how much a bound is above a score in the first leaf in which they differ; zero if it is not, NaN if that is no number.
template <std::size_t I = 0, class Score>
[[nodiscard]] double gap_between(const Score& score, const Score& bound) {
    if constexpr (I == leaf_count<Score>) {
        return 0.0;
    } else {
        const auto &low = std::get<I>(leaves_of(score)), &high = std::get<I>(leaves_of(bound));
        if (low == high) return gap_between<I + 1>(score, bound);
        if (high < low) return 0.0;
        if constexpr (number_score<leaf_type<Score, I>>)
            return static_cast<double>(plain(high) - plain(low));
        else
            return std::numeric_limits<double>::quiet_NaN();
    }
}

/// Leaf I of an objective by itself.
template <objective O, std::size_t I>
struct leaf_alone {
    using score_type = leaf_type<typename O::score_type, I>;
    const O* inner = nullptr;

    [[nodiscard]] score_type opening(std::size_t option, std::size_t from) const requires separable_objective<O> {
        return leaf(inner->opening(option, from));
    }
    [[nodiscard]] score_type closing(std::size_t option, std::size_t to) const requires separable_objective<O> {
        return leaf(inner->closing(option, to));
    }
    [[nodiscard]] score_type slab(std::size_t option, std::size_t from, std::size_t to) const
        requires(!separable_objective<O>) {
        return leaf(inner->slab(option, from, to));
    }

private:
    [[nodiscard]] static score_type leaf(const typename O::score_type& score) { return std::get<I>(leaves_of(score)); }
};

/// scale × leaf I + Σ price_j × leaf j of those before it, and a bonus for each slab of some options, as one number; of the
/// same kind as the objective it is made of. Whole numbers where the leaves are: the scale then makes room for prices that
/// are no whole ones.
template <objective O, std::size_t I>
requires numbers_first<typename O::score_type, I + 1>
struct priced_leaf {
    using score_type = std::conditional_t<whole_numbers_first<typename O::score_type, I + 1>, std::int64_t, double>;
    const O* inner = nullptr;
    score_type scale = 1;
    std::array<score_type, I> price{};
    std::vector<score_type> bonus; ///< by option

    [[nodiscard]] score_type opening(std::size_t option, std::size_t from) const requires separable_objective<O> {
        return value(inner->opening(option, from));
    }
    [[nodiscard]] score_type closing(std::size_t option, std::size_t to) const requires separable_objective<O> {
        return value(inner->closing(option, to)) + bonus[option];
    }
    [[nodiscard]] score_type slab(std::size_t option, std::size_t from, std::size_t to) const
        requires(!separable_objective<O>) {
        return value(inner->slab(option, from, to)) + bonus[option];
    }

    /// Of a score without any bonus. What is forbidden stays so, whatever its parts; whole numbers cannot say it, and leave
    /// it to the score.
    [[nodiscard]] score_type value(const typename O::score_type& score) const {
        if constexpr (std::is_floating_point_v<score_type>)
            if (forbids(score)) return -std::numeric_limits<score_type>::infinity();
        const auto leaves = leaves_of(score);
        return [&]<std::size_t... J>(std::index_sequence<J...>) {
            return (product_of(scale, static_cast<score_type>(plain(std::get<I>(leaves)))) + ... +
                    product_of(price[J], static_cast<score_type>(plain(std::get<J>(leaves)))));
        }
        (std::make_index_sequence<I>{});
    }
};

/// The largest size of a leaf of any one term that a search may add up: an opening, a closing or a whole slab.
/// O(positions × options), or a look at every allowed slab.
template <std::size_t I, objective O>
[[nodiscard]] double largest_term(const cutting_problem& problem, const O& objective) {
    double largest = 0.0;
    const auto look_at = [&](const typename O::score_type& score) {
        if (!forbids(score))
            largest = std::max(largest, std::abs(static_cast<double>(plain(std::get<I>(leaves_of(score))))));
    };
    for (std::size_t o = 0; o < problem.option_count(); ++o)
        for (std::size_t to = problem.start(); to <= problem.cells(); ++to) {
            if constexpr (separable_objective<O>) {
                if (to < problem.cells()) look_at(objective.opening(o, to));
                if (to > problem.start()) look_at(objective.closing(o, to));
            } else {
                const bool windowed = problem.is_portion(o) && to < problem.cells();
                const std::size_t most = windowed ? problem.window(o).most_cells : problem.cells();
                for (std::size_t from = std::max(problem.start(), to - std::min(to, most)); from < to; ++from)
                    if (problem.allows(o, from, to)) look_at(objective.slab(o, from, to));
            }
        }
    return largest;
}

} // namespace tranche::detail
