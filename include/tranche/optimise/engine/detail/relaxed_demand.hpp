// Demands beyond the reach of count states: a bound by Lagrange multipliers, and a plan that they lead to.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/detail/count_beam.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/price_search.hpp>
#include <tranche/optimise/engine/detail/priced_score.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/unfused.hpp>

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

/// The bound on leaf I of the score, of plans that meet the rows and whose leaves before it are at least those of the answer:
///
///     leaf I ≤ max over all plans of (leaf I + Σ p_j (leaf j - its value) + Σ m_k n_k) - Σ m_k (least_k if m_k ≥ 0,
///              most_k if m_k < 0)
///
/// where n_k are the slabs of row k, m_k are not below zero for a row without a cap, and no p_j is. The right-hand side is
/// a bound whatever the multipliers; `price_search` says which to look at next.
/// Plans on the way that meet the rows, and those of a beam, are offered to the answer.
template <objective O, std::size_t I>
class leaf_relaxation {
public:
    using score_type = typename O::score_type;
    using leaf = leaf_type<score_type, I>;

    leaf_relaxation(const cutting_problem& problem, const O& objective, const std::vector<slab_demand>& rows,
                    const order_states& orders, search_clock& clock, relaxed_answer<score_type>& answer)
        : problem_(problem), objective_(objective), rows_(rows), orders_(orders), clock_(clock),
          answer_(answer), priced_{&objective, 1, {}, std::vector<number>(problem.option_count())} {
        const double positions = static_cast<double>(problem.cells()) + 1.0;
        const auto most_of = [&](double largest) { return 2.0 * positions * largest; }; // of all slabs together
        if constexpr (std::is_integral_v<number>) {
            const double most = most_of(largest_term<I>(problem, objective));
            while (priced_.scale < finest && 2.0 * static_cast<double>(priced_.scale) * most <= 0x1p50)
                priced_.scale *= 2;
        }
        // Far beyond any use, and so that sums stay within 64 bits.
        const double shares = static_cast<double>(rows.size() + I + 1);
        beyond_.assign(rows.size(), std::min(1e15, 0x1p60 / (positions * shares)));
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

    /// The least bound found.
    [[nodiscard]] leaf run() {
        const search_limits& limits = clock_.limits();
        find_prices(limits.rounds);
        std::get<I>(leaves_of(answer_.by_prices)) = bound();
        if constexpr (I == 0)
            for (const slab_demand& row : rows_)
                answer_.prices.push_back(static_cast<double>(best_prices_.bonus[row.option]) /
                                         static_cast<double>(best_prices_.scale));
        if (met() || clock_.stopped()) return bound();
        number offset{};
        for (std::size_t j = 0; j < I; ++j) offset += product_of(best_prices_.price[j], floor_[j]);
        search_type search(problem_, objective_, best_prices_, offset, rows_, orders_);
        const beam_limits narrow{};
        look({.width = std::min(narrow.width, search.width_within(narrow.kept))}, search, std::nullopt);
        if (limits.prove) prove(limits.most_states, search);
        return bound();
    }

    /// Whether a plan is as good as the bound in this leaf.
    [[nodiscard]] bool met() const { return answer_.found && !(best() < plain(bound())); }

private:
    using number = typename priced_leaf<O, I>::score_type;
    using search_type = count_beam<O, priced_leaf<O, I>>;

    void find_prices(int rounds) {
        price_search<> search(rows_for_search());
        for (int round = 0; round < std::max(rounds, 1); ++round) {
            if (!clock_.go_on() && round > 0) return; // without a first one there is no bound
            const relaxation now = relax(search.prices());
            if (round == 0 || now.bound < least_bound_) {
                least_bound_ = now.bound;
                best_prices_ = priced_;
            }
            const std::vector<std::int64_t> counts = slabs_of(problem_, rows_, now.stretches);
            if (all_met(rows_, counts)) offer(now.stretches, now.score);
            if (met()) return;
            const auto high = static_cast<double>(now.bound), scale = static_cast<double>(priced_.scale);
            search.found(high, scale * static_cast<double>(plain(std::get<I>(leaves_of(now.score)))),
                         sums_of(counts, now.score),
                         answer_.found ? scale * static_cast<double>(best()) : high - unfused(0.05 * std::abs(high)));
            if (!search.advance(std::max(unfused(1e-6 * std::abs(high)), 1e-4 * scale))) break;
        }
    }

    /// The least value that plans have which are better than the best one known in this leaf.
    [[nodiscard]] number better() const {
        const number now = priced_.scale * static_cast<number>(best());
        if constexpr (std::is_integral_v<number>)
            return now + priced_.scale;
        else if constexpr (std::is_integral_v<leaf>)
            return now + 0.5;
        else
            return now + unfused(1e-12 * std::abs(now)); // what is less than that is rounding
    }

    /// Looks for plans of at least this value, or for any that is better; returns the states looked at, and whether that was
    /// everywhere.
    std::pair<std::size_t, bool> look(const beam_limits& limits, search_type& search, std::optional<number> least) {
        const auto target = [&]() -> std::optional<number> {
            if (!answer_.found) return least;
            // Where the leaves behind this one may be better, one as good is looked at as well.
            const number next =
                I + 1 == leaf_count<score_type> || least ? better() : priced_.scale * static_cast<number>(best());
            return std::max(least.value_or(next), next);
        };
        const beam_outcome<number> outcome = search.run(
            limits, target,
            [&](const std::vector<grid_slab>& stretches, const score_type& score) { offer(stretches, score); }, clock_);
        number highest = outcome.above.value_or(std::numeric_limits<number>::lowest());
        if (least) highest = std::max(highest, *least);
        if (answer_.found)
            least_bound_ = std::min(least_bound_, std::max(highest, priced_.scale * static_cast<number>(best())));
        else if (!outcome.above && !least)
            answer_.impossible = true;
        else
            least_bound_ = std::min(least_bound_, highest);
        return {outcome.states, !outcome.above};
    }

    /// Looks for plans near the bound first, so that little is searched if there is one or the bound falls; then further down.
    void prove(std::size_t states, search_type& search) {
        for (const int part : {16, 4, 1}) {
            if (met() || answer_.impossible || answer_.states >= states || clock_.stopped()) return;
            std::optional<number> least;
            if (answer_.found && part > 1) least = least_bound_ - (least_bound_ - better()) / static_cast<number>(part);
            const beam_limits limits{
                .width = std::numeric_limits<std::size_t>::max(), .states = states - answer_.states, .kept = most_kept};
            const auto [looked_at, everywhere] = look(limits, search, least);
            answer_.states += looked_at;
            if (!everywhere) return;
        }
    }

    struct relaxation {
        std::vector<grid_slab> stretches;
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

    [[nodiscard]] relaxation relax(const std::vector<double>& prices) {
        number constant{};
        for (std::size_t k = 0; k < rows_.size(); ++k) {
            const number m = whole(prices[k]);
            priced_.bonus[rows_[k].option] = m;
            constant += m * static_cast<number>(m < number{} ? rows_[k].most : rows_[k].least);
        }
        for (std::size_t j = 0; j < I; ++j) {
            priced_.price[j] = whole(prices[rows_.size() + j] / unit_[j]);
            constant += priced_.price[j] * floor_[j];
        }
        auto highest = best_path(problem_, priced_);
        relaxation now{std::move(highest.stretches), {}, highest.score - constant};
        for (const grid_slab& s : now.stretches)
            now.score = now.score + slab_score(objective_,
                                               s.option + (s.kind == slab_kind::portions ? problem_.loose_count() : 0),
                                               s.from, s.to);
        return now;
    }

    [[nodiscard]] std::vector<priced_row> rows_for_search() const {
        std::vector<priced_row> result;
        for (const slab_demand& row : rows_)
            result.push_back({static_cast<double>(row.least), row.capped() ? static_cast<double>(row.most) : 0.0,
                              row.capped(), beyond_[result.size()]});
        for (std::size_t j = 0; j < I; ++j) {
            const double beyond = beyond_[result.size()] * unit_[j];
            result.push_back({static_cast<double>(floor_[j]) / unit_[j], 0.0, false, beyond});
        }
        return result;
    }
    /// What those rows limit, of one plan.
    [[nodiscard]] std::vector<double> sums_of(const std::vector<std::int64_t>& counts, score_type score) const {
        std::vector<double> result(counts.begin(), counts.end());
        [&]<std::size_t... J>(std::index_sequence<J...>) {
            (result.push_back(static_cast<double>(plain(std::get<J>(leaves_of(score)))) / unit_[J]), ...);
        }
        (std::make_index_sequence<I>{});
        return result;
    }

    void offer(const std::vector<grid_slab>& stretches, const score_type& score) {
        if (forbids(score)) return; // in a part that is not relaxed
        if (answer_.found && !(answer_.score < score)) return;
        answer_.found = true;
        answer_.score = score;
        answer_.stretches = stretches;
        clock_.found(stretches, score);
    }

    static constexpr std::size_t most_kept = std::size_t{1} << 25U; ///< entries of a proof, of a score and 8 bytes
    static constexpr std::int64_t finest = std::int64_t{1} << 20U;  ///< prices are multiples of one over this

    const cutting_problem& problem_;
    const O& objective_;
    const std::vector<slab_demand>& rows_;
    const order_states& orders_;
    search_clock& clock_;
    relaxed_answer<score_type>& answer_;
    std::vector<double> beyond_,
        unit_; ///< no price is larger, of rows, then of the leaves before; those in what they count
    std::array<number, I> floor_{}; ///< what those are to reach
    priced_leaf<O, I> priced_, best_prices_;
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
    template <std::size_t I>
    void relax_leaf() {
        if constexpr (I == leaf_count<score_type>) {
            return;
        } else if constexpr (!numbers_first<score_type, I + 1>) {
            bound_alone<I>();
        } else {
            leaf_relaxation<O, I> relaxation(problem_, objective_, rows_, orders_, clock_, answer_);
            std::get<I>(leaves_of(answer_.bound)) = relaxation.run();
            if (relaxation.met())
                relax_leaf<I + 1>();
            else
                bound_alone<I + 1>();
        }
    }
    template <std::size_t I>
    void bound_alone() {
        if constexpr (I < leaf_count<score_type>) {
            std::get<I>(leaves_of(answer_.by_prices)) = std::get<I>(leaves_of(answer_.bound)) =
                best_path(problem_, leaf_alone<O, I>{&objective_}).score;
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
