// Demands beyond the reach of count states: a bound by Lagrange multipliers, and a plan that they lead to.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/detail/demands/count_beam.hpp>
#include <tranche/optimise/engine/detail/demands/count_walk.hpp>
#include <tranche/optimise/engine/detail/demands/leaf_relaxation.hpp>
#include <tranche/optimise/engine/detail/demands/priced_score.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche::detail {

/// What is known so far of the best plan that meets the demands.
template <class Score>
struct relaxed_answer {
    bool found = false, impossible = false; ///< impossible: proven that there is none
    std::vector<grid_slab> stretches;
    Score score{}, bound{};
    Score by_prices{};          ///< what prices alone bound it by
    std::vector<double> prices; ///< by row: what one more slab costs, in units of the first leaf
    std::size_t states = 0;     ///< that proofs have looked at
};

/// The plans of an objective: what a relaxation leaves to the score itself.
template <objective O, class Number>
class relaxed_plans_of final : public relaxed_plans<Number> {
public:
    using score_type = typename O::score_type;
    using priced = priced_objective<Number, separable_slabs_of<O>>;

    relaxed_plans_of(const cutting_problem& problem, const O& objective, const priced& at_prices,
                     const std::vector<slab_demand>& rows, const order_states& orders, std::size_t leaf,
                     search_clock& clock, relaxed_answer<score_type>& answer)
        : problem_(problem), objective_(objective), at_prices_(at_prices), rows_(rows), orders_(orders), leaf_(leaf),
          clock_(clock), answer_(answer) {}

    std::vector<Number> offer(const std::vector<grid_slab>& stretches, bool meets) override {
        const score_type score = score_of(problem_, objective_, stretches);
        if (meets) take(stretches, score);
        std::vector<Number> leaves;
        for (std::size_t j = 0; j <= leaf_; ++j) leaves.push_back(leaf_as<Number>(score, j));
        return leaves;
    }
    [[nodiscard]] Number best() const override { return leaf_as<Number>(answer_.score, leaf_); }
    [[nodiscard]] bool found() const override { return answer_.found; }
    bool met(Number bound) override {
        if (!answer_.found) return false;
        bool less = false;
        score_type bounded{};
        set_leaf(bounded, leaf_, bound);
        with_leaf(answer_.score, bounded, leaf_, [&](const auto& has, const auto& most) { less = has < most; });
        return !less;
    }
    beam_outcome<Number> search(const beam_limits& limits, std::function<std::optional<Number>()> target) override {
        return beam_->run(limits, std::move(target), clock_);
    }
    std::size_t start_search(Number offset, const beam_limits& narrow) override {
        beam_.emplace(
            problem_, objective_, at_prices_, offset, rows_, orders_,
            [this](const std::vector<grid_slab>& stretches, const score_type& score) { take(stretches, score); });
        return std::min(narrow.width, beam_->width_within(narrow.kept));
    }

private:
    void take(const std::vector<grid_slab>& stretches, const score_type& score) {
        if (forbids(score)) return; // in a part that is not relaxed
        if (answer_.found && !(answer_.score < score)) return;
        answer_.found = true;
        answer_.score = score;
        answer_.stretches = stretches;
        clock_.found(stretches, score);
    }

    const cutting_problem& problem_;
    const O& objective_;
    const priced& at_prices_;
    const std::vector<slab_demand>& rows_;
    const order_states& orders_;
    std::size_t leaf_;
    search_clock& clock_;
    relaxed_answer<score_type>& answer_;
    std::optional<count_beam<O, Number>> beam_;
};

/// The score leaf by leaf: the first is bounded and plans are looked for; where one reaches the bound, the next leaf is
/// bounded among plans that do; where none does, the leaves behind it are bounded by what each can reach by itself. So
/// plan and bound agree in the leaves that are proven best, the first one that is not has the bound of its relaxation, and
/// the bound as a whole is one in the order that scores have.
template <objective O>
class relaxed_demand {
public:
    using score_type = typename O::score_type;
    /// Whether there is a number to put prices on.
    static constexpr bool has_prices = numbers_first<score_type, 1>;

    relaxed_demand(const cutting_problem& problem, const O& objective, const std::vector<slab_demand>& rows,
                   search_clock& clock)
        : problem_(problem), objective_(objective), rows_(rows), clock_(clock),
          orders_(order_states_within(problem, most_ordered_entries)) {}

    [[nodiscard]] relaxed_answer<score_type> run() requires has_prices {
        relax_leaf<0>();
        if (answer_.found && answer_.bound < answer_.score)
            answer_.bound = answer_.score; // rounding of floating scores
        return answer_;
    }

private:
    static constexpr separable_slabs kind = separable_slabs_of<O>;

    template <std::size_t I>
    void relax_leaf() {
        if constexpr (I == leaf_count<score_type>) {
            return;
        } else if constexpr (!numbers_first<score_type, I + 1>) {
            bound_alone<I>();
        } else {
            using number = std::conditional_t<whole_numbers_first<score_type, I + 1>, std::int64_t, double>;
            if (relax<number>({.index = I,
                               .whole = std::is_integral_v<leaf_type<score_type, I>>,
                               .last = I + 1 == leaf_count<score_type>}))
                relax_leaf<I + 1>();
            else
                bound_alone<I + 1>();
        }
    }
    /// Whether a plan is as good as the bound in the leaf.
    template <class Number>
    [[nodiscard]] bool relax(bounded_leaf leaf) {
        std::vector<Number> floor;
        for (std::size_t j = 0; j <= leaf.index; ++j) {
            leaf.largest.push_back(largest_term(problem_, objective_, j));
            if (j < leaf.index) floor.push_back(leaf_as<Number>(answer_.score, j));
        }
        priced_objective<Number, kind> priced(problem_, objective_);
        relaxed_plans_of<O, Number> plans(problem_, objective_, priced, rows_, orders_, leaf.index, clock_, answer_);
        leaf_relaxation<Number, kind> relaxation(problem_, priced, rows_, leaf, std::move(floor), plans, clock_);
        const std::size_t states = clock_.limits().most_states;
        const auto known = relaxation.run(states - std::min(states, answer_.states));
        set_leaf(answer_.by_prices, leaf.index, known.by_prices);
        set_leaf(answer_.bound, leaf.index, known.bound);
        if (leaf.index == 0) answer_.prices = known.prices;
        answer_.states += known.states;
        answer_.impossible = answer_.impossible || known.impossible;
        return known.met;
    }
    template <std::size_t I>
    void bound_alone() {
        if constexpr (I < leaf_count<score_type>) {
            using leaf = leaf_type<score_type, I>;
            if constexpr (number_score<leaf>) {
                using number = std::conditional_t<std::is_integral_v<leaf>, std::int64_t, double>;
                priced_objective<number, kind> alone(problem_, objective_);
                alone.set({.first = I, .price = {1}, .bonus = std::vector<number>(problem_.option_count())});
                set_leaf(answer_.bound, I, best_path(problem_, alone).score);
            } else {
                std::get<I>(leaves_of(answer_.bound)) = best_path(problem_, leaf_alone<O, I>{&objective_}).score;
            }
            with_leaf(answer_.by_prices, answer_.bound, I, [](auto& to, const auto& from) { to = from; });
            bound_alone<I + 1>();
        }
    }

    const cutting_problem& problem_;
    const O& objective_;
    const std::vector<slab_demand>& rows_;
    search_clock& clock_;
    order_states orders_;
    relaxed_answer<score_type> answer_;
};

} // namespace tranche::detail
