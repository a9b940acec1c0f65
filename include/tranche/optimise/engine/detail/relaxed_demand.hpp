// Demands beyond the reach of count states: a bound by Lagrange multipliers, and a plan that they lead to.
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

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/count_beam.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/priced_score.hpp>
#include <tranche/optimise/engine/segment.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// What is known so far of the best plan that meets the demands.
template <class Score>
struct relaxed_answer {
    bool found = false;
    std::vector<stretch> stretches;
    Score score{}, bound{};
};

/// The bound on leaf I of the score, of plans that meet the rows and whose leaves before it are at least those of the answer:
///
///     leaf I ≤ max over all plans of (leaf I + Σ p_j (leaf j - its value) + Σ m_k n_k) - Σ m_k (least_k if m_k ≥ 0,
///              most_k if m_k < 0)
///
/// where n_k are the slabs of row k, m_k are not below zero for a row without a cap, and no p_j is. The right-hand side is
/// a bound whatever the multipliers; they move along its subgradients, by Polyak's step towards the best score known.
/// Plans on the way that meet the rows, and those of a beam, are offered to the answer.
template <objective O, std::size_t I>
class leaf_relaxation {
public:
    using score_type = typename O::score_type;
    using leaf = leaf_type<score_type, I>;

    leaf_relaxation(const cutting_problem& problem, const O& objective, const std::vector<slab_demand>& rows,
                    const order_states& orders, relaxed_answer<score_type>& answer)
        : problem_(problem), objective_(objective), rows_(rows), orders_(orders), answer_(answer),
          multipliers_(rows.size() + I), priced_{&objective, 1, {}, std::vector<number>(problem.option_count())} {
        const double positions = static_cast<double>(problem.cells()) + 1.0;
        const auto most_of = [&](double largest) { return 2.0 * positions * largest; }; // of all slabs together
        if constexpr (std::is_integral_v<number>) {
            const double most = most_of(largest_term<I>(problem, objective));
            while (priced_.scale < finest && 2.0 * static_cast<double>(priced_.scale) * most <= 0x1p50)
                priced_.scale *= 2;
        }
        // Far beyond any use, and so that sums stay within 64 bits.
        const double shares = static_cast<double>(multipliers_.size() + 1);
        beyond_.assign(rows.size(), std::min(1e15, 0x1p60 / (positions * shares)));
        unit_.assign(rows.size(), 1.0);
        [&]<std::size_t... J>(std::index_sequence<J...>) {
            (
                [&] {
                    unit_.push_back(std::max(largest_term<J>(problem, objective), 1.0));
                    beyond_.push_back(0x1p60 / (most_of(unit_.back()) * shares));
                    floor_[J] = static_cast<number>(plain(std::get<J>(leaves_of(answer.score))));
                }(),
                ...);
        }
        (std::make_index_sequence<I>{});
    }

    /// The least bound found in so many rounds, each a call of `segment`.
    [[nodiscard]] leaf run(int rounds) {
        rounds = std::max(rounds, 1);
        double pace = 1.5;
        int without_progress = 0;
        for (int round = 0; round < rounds; ++round) {
            const relaxation now = relax();
            const bool lower = round == 0 || now.bound < least_bound_;
            without_progress = lower ? 0 : without_progress + 1;
            if (lower) least_bound_ = now.bound;
            const std::vector<std::int64_t> counts = slabs_of(problem_, rows_, now.stretches);
            if (all_met(rows_, counts)) offer(now.stretches, now.score);
            if (round == rounds / 4 || round + 1 == rounds) beam();
            if (met()) break;
            if (without_progress == 6) {
                pace *= 0.6;
                without_progress = 0;
            }
            const std::vector<double> direction = slopes(counts, now.score);
            double square = 0.0;
            for (const double d : direction) square += unfused(d * d);
            if (!(square > 0.0)) { // no multipliers give a lower bound
                beam();
                break;
            }
            const auto high = static_cast<double>(now.bound), scale = static_cast<double>(priced_.scale);
            const double target =
                answer_.found ? scale * static_cast<double>(best()) : high - unfused(0.05 * std::abs(high)) - scale;
            const double step = pace * std::max(high - target, 0.0) / square;
            for (std::size_t k = 0; k < multipliers_.size(); ++k) move(k, unfused(-step * direction[k]));
        }
        return bound();
    }

    /// Whether a plan is as good as the bound in this leaf.
    [[nodiscard]] bool met() const { return answer_.found && !(best() < plain(bound())); }

private:
    using number = typename priced_leaf<O, I>::score_type;

    struct relaxation {
        std::vector<stretch> stretches;
        score_type score{}; ///< without any price
        number bound{};
    };

    [[nodiscard]] auto best() const { return plain(std::get<I>(leaves_of(answer_.score))); }
    /// A whole number cannot lie between two.
    [[nodiscard]] leaf bound() const {
        if constexpr (std::is_integral_v<number>) {
            const number quotient = least_bound_ / priced_.scale; // towards zero
            return as_score<leaf>(quotient * priced_.scale > least_bound_ ? quotient - 1 : quotient);
        } else if constexpr (std::is_integral_v<leaf>) { // behind one that is not whole
            return as_score<leaf>(std::floor(std::clamp(least_bound_, -0x1p62, 0x1p62)));
        } else {
            return as_score<leaf>(least_bound_);
        }
    }

    [[nodiscard]] static number whole(double multiplier) {
        if constexpr (std::is_integral_v<number>)
            return static_cast<number>(std::llround(multiplier));
        else
            return multiplier;
    }

    [[nodiscard]] relaxation relax() {
        number constant{};
        for (std::size_t k = 0; k < rows_.size(); ++k) {
            const number m = whole(multipliers_[k]);
            priced_.bonus[rows_[k].option] = m;
            constant += m * static_cast<number>(m < number{} ? rows_[k].most : rows_[k].least);
        }
        for (std::size_t j = 0; j < I; ++j) {
            priced_.price[j] = whole(multipliers_[rows_.size() + j] / unit_[rows_.size() + j]);
            constant += priced_.price[j] * floor_[j];
        }
        auto highest = segment(problem_, priced_);
        relaxation now{std::move(highest.stretches), {}, highest.score - constant};
        for (const stretch& s : now.stretches)
            now.score = now.score + slab_score(objective_,
                                               s.option + (s.kind == slab_kind::portions ? problem_.loose_count() : 0),
                                               s.from, s.to);
        return now;
    }

    /// How the bound grows with each multiplier.
    [[nodiscard]] std::vector<double> slopes(const std::vector<std::int64_t>& counts, score_type score) const {
        std::vector<double> result;
        for (std::size_t k = 0; k < rows_.size(); ++k) {
            const auto slabs = static_cast<double>(counts[k]), least = static_cast<double>(rows_[k].least),
                       most = static_cast<double>(rows_[k].most);
            const double m = multipliers_[k];
            result.push_back(m > 0.0         ? slabs - least
                             : m < 0.0       ? slabs - most
                             : slabs < least ? slabs - least
                             : slabs > most  ? slabs - most
                                             : 0.0);
        }
        [&]<std::size_t... J>(std::index_sequence<J...>) {
            (
                [&] {
                    const double above =
                        (static_cast<double>(plain(std::get<J>(leaves_of(score)))) - static_cast<double>(floor_[J])) /
                        unit_[rows_.size() + J];
                    result.push_back(multipliers_[rows_.size() + J] > 0.0 ? above : std::min(above, 0.0));
                }(),
                ...);
        }
        (std::make_index_sequence<I>{});
        return result;
    }
    void move(std::size_t k, double by) {
        const bool row = k < rows_.size();
        const double most = row ? beyond_[k] : beyond_[k] * unit_[k];
        double moved = std::clamp(multipliers_[k] + by, -most, most);
        // Zero is a kink of the bound unless both limits are one.
        if (row && multipliers_[k] * moved < 0.0 && rows_[k].least != rows_[k].most) moved = 0.0;
        if (!row || !rows_[k].capped()) moved = std::max(moved, 0.0);
        multipliers_[k] = moved;
    }

    void offer(const std::vector<stretch>& stretches, const score_type& score) {
        if (forbids(score)) return; // in a part that is not relaxed
        if (answer_.found && !(answer_.score < score)) return;
        answer_.found = true;
        answer_.score = score;
        answer_.stretches = stretches;
    }
    void beam() {
        const count_beam<O, priced_leaf<O, I>> search(problem_, objective_, priced_, rows_, orders_);
        search.run([&](const std::vector<stretch>& stretches, const score_type& score) { offer(stretches, score); });
    }

    static constexpr std::int64_t finest = std::int64_t{1} << 20U; ///< prices are multiples of one over this

    const cutting_problem& problem_;
    const O& objective_;
    const std::vector<slab_demand>& rows_;
    const order_states& orders_;
    relaxed_answer<score_type>& answer_;
    std::vector<double> multipliers_, beyond_, unit_; ///< of the rows, then of the leaves before this one
    std::array<number, I> floor_{};                   ///< what those are to reach
    priced_leaf<O, I> priced_;
    number least_bound_{};
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

    relaxed_demand(const cutting_problem& problem, const O& objective, const std::vector<slab_demand>& rows)
        : problem_(problem), objective_(objective), rows_(rows),
          orders_(order_states_within(problem, most_ordered_entries)) {}

    /// Of the subgradient method there are so many rounds for each leaf.
    [[nodiscard]] relaxed_answer<score_type> run(int rounds) requires has_prices {
        relax_leaf<0>(rounds);
        if (answer_.found && answer_.bound < answer_.score)
            answer_.bound = answer_.score; // rounding of floating scores
        return answer_;
    }

private:
    template <std::size_t I>
    void relax_leaf(int rounds) {
        if constexpr (I == leaf_count<score_type>) {
            return;
        } else if constexpr (!numbers_first<score_type, I + 1>) {
            bound_alone<I>();
        } else {
            leaf_relaxation<O, I> relaxation(problem_, objective_, rows_, orders_, answer_);
            std::get<I>(leaves_of(answer_.bound)) = relaxation.run(rounds);
            if (relaxation.met())
                relax_leaf<I + 1>(rounds);
            else
                bound_alone<I + 1>();
        }
    }
    template <std::size_t I>
    void bound_alone() {
        if constexpr (I < leaf_count<score_type>) {
            std::get<I>(leaves_of(answer_.bound)) = segment(problem_, leaf_alone<O, I>{&objective_}).score;
            bound_alone<I + 1>();
        }
    }

    const cutting_problem& problem_;
    const O& objective_;
    const std::vector<slab_demand>& rows_;
    order_states orders_;
    relaxed_answer<score_type> answer_;
};

} // namespace tranche::detail
