// Scores as the numbers they are made of, and an objective as those numbers at prices: what a relaxation maximises.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
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

/// Leaf i of a score, a number, as one of this kind.
template <class Number, class Score>
[[nodiscard]] constexpr Number leaf_as(const Score& score, std::size_t i) {
    const auto leaves = leaves_of(score);
    return [&]<std::size_t... J>(std::index_sequence<J...>) {
        Number result{};
        const auto take = [&](const auto& leaf) {
            if constexpr (number_score<std::remove_cvref_t<decltype(leaf)>>) result = static_cast<Number>(plain(leaf));
        };
        ((J == i ? take(std::get<J>(leaves)) : void()), ...);
        return result;
    }
    (std::make_index_sequence<leaf_count<Score>>{});
}
/// Calls f(leaf i, leaf i of the other).
template <class Score, class Other, class F>
constexpr void with_leaf(Score& score, Other& other, std::size_t i, const F& f) {
    [&]<std::size_t... J>(std::index_sequence<J...>) {
        ((J == i ? void(f(std::get<J>(leaves_of(score)), std::get<J>(leaves_of(other)))) : void()), ...);
    }
    (std::make_index_sequence<leaf_count<Score>>{});
}

/// Makes leaf i of a score, a number, this one.
template <class Score, class Number>
constexpr void set_leaf(Score& score, std::size_t i, Number number) {
    with_leaf(score, score, i, [&](auto& leaf, const auto&) {
        using type = std::remove_cvref_t<decltype(leaf)>;
        if constexpr (number_score<type>) leaf = as_score<type>(number);
    });
}

/// The leaves of scores at prices, as one number: Σ price_j × leaf j, and a bonus for each slab of some options. Whole numbers
/// where the leaves are: the price of the last leaf then makes room for prices that are no whole ones.
template <class Number>
struct leaf_prices {
    std::size_t first = 0;     ///< the leaf that the first price is of
    std::vector<Number> price; ///< the last one is that of the leaf that counts; those in front are of leaves before it
    std::vector<Number> bonus; ///< by option

    [[nodiscard]] Number scale() const { return price.back(); }

    /// Of a score without any bonus. What is forbidden stays so, whatever its parts; whole numbers cannot say it, and leave
    /// it to the score.
    template <class Score>
    [[nodiscard]] Number value(const Score& score) const {
        if constexpr (std::is_floating_point_v<Number>)
            if (forbids(score)) return -std::numeric_limits<Number>::infinity();
        const std::size_t last = first + price.size() - 1;
        Number sum = product_of(price.back(), leaf_as<Number>(score, last));
        for (std::size_t j = first; j < last; ++j) sum += product_of(price[j - first], leaf_as<Number>(score, j));
        return sum;
    }
};

/// Which slabs of an objective have an opening and a closing.
enum class separable_slabs { all, loose, none };
template <objective O>
inline constexpr separable_slabs separable_slabs_of = separable_objective<O> ? separable_slabs::all
                                                      : separable_loose<O>   ? separable_slabs::loose
                                                                             : separable_slabs::none;

/// An objective at prices, as an objective that is one number. It reads the other through functions, and keeps openings and
/// closings as tables, so what searches by it is compiled once for all objectives of a kind. The problem and the objective
/// must outlive it.
template <class Number, separable_slabs Kind>
class priced_objective {
public:
    using score_type = Number;

    template <objective O>
    requires(separable_slabs_of<O> == Kind) priced_objective(const cutting_problem& problem, const O& objective)
        : start_(problem.start()), end_(problem.cells()),
          tabulated_(Kind == separable_slabs::all     ? problem.option_count()
                     : Kind == separable_slabs::loose ? problem.loose_count()
                                                      : 0),
          inner_(&objective), slab_(&slab_of<O>), fill_(&fill_from<O>), openings_(tabulated_ * (end_ + 1)),
          closings_(openings_.size()) {
        prices_.bonus.resize(problem.option_count());
    }

    /// O(positions × options) where the prices of leaves have changed.
    void set(leaf_prices<Number> prices) {
        const bool same = prices.first == prices_.first && prices.price == prices_.price;
        prices_ = std::move(prices);
        if (same) return;
        for (std::size_t o = 0; o < tabulated_; ++o)
            fill_(inner_, prices_, o, start_, end_, openings_.data() + o * (end_ + 1),
                  closings_.data() + o * (end_ + 1));
    }
    [[nodiscard]] const leaf_prices<Number>& prices() const { return prices_; }

    struct terms {
        const Number *front, *back;
        Number bonus;
        [[nodiscard]] Number opening(std::size_t from) const { return front[from]; }
        [[nodiscard]] Number closing(std::size_t to) const { return back[to] + bonus; }
    };
    [[nodiscard]] terms terms_of(std::size_t option) const {
        const std::size_t at = option * (end_ + 1);
        return {openings_.data() + at, closings_.data() + at, prices_.bonus[option]};
    }
    [[nodiscard]] Number opening(std::size_t option, std::size_t from) const requires(Kind == separable_slabs::all) {
        return terms_of(option).opening(from);
    }
    [[nodiscard]] Number closing(std::size_t option, std::size_t to) const requires(Kind == separable_slabs::all) {
        return terms_of(option).closing(to);
    }
    [[nodiscard]] Number slab(std::size_t option, std::size_t from, std::size_t to) const
        requires(Kind != separable_slabs::all) {
        return slab_(inner_, prices_, option, from, to) + prices_.bonus[option];
    }
    [[nodiscard]] Number loose_opening(std::size_t option, std::size_t from) const
        requires(Kind == separable_slabs::loose) {
        return terms_of(option).opening(from);
    }
    [[nodiscard]] Number loose_closing(std::size_t option, std::size_t to) const
        requires(Kind == separable_slabs::loose) {
        return terms_of(option).closing(to);
    }

private:
    template <objective O>
    static Number slab_of(const void* inner, const leaf_prices<Number>& prices, std::size_t option, std::size_t from,
                          std::size_t to) {
        return prices.value(slab_score(*static_cast<const O*>(inner), option, from, to));
    }
    /// Where slabs may start, in front of the sirloin face, and where they may end, behind the facing.
    template <objective O>
    static void fill_from(const void* inner, const leaf_prices<Number>& prices, std::size_t option, std::size_t start,
                          std::size_t end, Number* opening, Number* closing) {
        if constexpr (separable_loose<O>) {
            const auto slabs = loose_terms_of(*static_cast<const O*>(inner), option);
            for (std::size_t p = start; p < end; ++p) {
                opening[p] = prices.value(slabs.opening(p));
                closing[p + 1] = prices.value(slabs.closing(p + 1));
            }
        }
    }

    std::size_t start_, end_, tabulated_; ///< of options those that have openings and closings
    const void* inner_;
    Number (*slab_)(const void*, const leaf_prices<Number>&, std::size_t, std::size_t, std::size_t);
    void (*fill_)(const void*, const leaf_prices<Number>&, std::size_t, std::size_t, std::size_t, Number*, Number*);
    std::vector<Number> openings_, closings_; ///< option after option, a place for each position
    leaf_prices<Number> prices_;
};

/// The largest size of a leaf of any one term that a search may add up: an opening, a closing or a whole slab.
/// O(positions × options), or a look at every allowed slab.
template <objective O>
[[nodiscard]] double largest_term(const cutting_problem& problem, const O& objective, std::size_t leaf) {
    double largest = 0.0;
    const auto look_at = [&](const typename O::score_type& score) {
        if (!forbids(score)) largest = std::max(largest, std::abs(leaf_as<double>(score, leaf)));
    };
    for (std::size_t o = 0; o < problem.option_count(); ++o)
        for (std::size_t to = problem.start(); to <= problem.cells(); ++to) {
            if constexpr (separable_objective<O>) {
                if (to < problem.cells()) look_at(objective.opening(o, to));
                if (to > problem.start()) look_at(objective.closing(o, to));
            } else {
                const slab_lane& lane = problem.graph().lanes[o];
                for (std::size_t from = lane.to(to).first; from < lane.to(to).past; from += lane.stride())
                    look_at(objective.slab(o, from, to));
            }
        }
    return largest;
}

} // namespace tranche::detail
