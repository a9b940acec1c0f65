// Demands beyond the reach of count states: a bound by Lagrange multipliers, and a plan that they lead to.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <deque>
#include <limits>
#include <map>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/count_states.hpp>
#include <tranche/optimise/cutting_problem.hpp>
#include <tranche/optimise/demand.hpp>
#include <tranche/optimise/objective.hpp>
#include <tranche/optimise/segment.hpp>

namespace tranche::detail {

/// An objective with a bonus for each slab of some options; of the same kind as the one it wraps.
template <objective O>
struct with_multipliers {
    using score_type = typename O::score_type;
    const O* inner = nullptr;
    std::vector<score_type> bonus; ///< by option

    [[nodiscard]] score_type opening(std::size_t option, std::size_t from) const requires separable_objective<O> {
        return inner->opening(option, from);
    }
    [[nodiscard]] score_type closing(std::size_t option, std::size_t to) const requires separable_objective<O> {
        return inner->closing(option, to) + bonus[option];
    }
    [[nodiscard]] score_type slab(std::size_t option, std::size_t from, std::size_t to) const
        requires(!separable_objective<O>) {
        return inner->slab(option, from, to) + bonus[option];
    }
};

/// For every plan that meets the rows, and any multipliers m (not below zero for a row without a cap),
///
///     score ≤ max over all plans of (score + Σ m_k n_k) - Σ m_k (least_k if m_k ≥ 0, most_k if m_k < 0)
///
/// where n_k are the slabs of row k. The right-hand side is a bound whatever the multipliers; they move along its
/// subgradients, by Polyak's step towards the best score known.
template <objective O>
class relaxed_demand {
public:
    using score_type = typename O::score_type;

    struct answer {
        bool found = false;
        std::vector<stretch> stretches;
        score_type score{}, bound{};
    };

    relaxed_demand(const cutting_problem& problem, const O& objective, const std::vector<slab_demand>& rows)
        : problem_(problem), objective_(objective), rows_(rows), multipliers_(rows.size()) {}

    [[nodiscard]] answer run(int rounds) {
        rounds = std::max(rounds, 1);
        double pace = 1.5;
        int without_progress = 0;
        bool bounded = false;
        std::vector<double> direction(rows_.size());
        for (int round = 0; round < rounds; ++round) {
            const relaxation now = relax();
            without_progress = bounded && !(now.bound < best_.bound) ? without_progress + 1 : 0;
            if (!bounded || now.bound < best_.bound) best_.bound = now.bound;
            bounded = true;
            const std::vector<std::int64_t> counts = slabs_of(problem_, rows_, now.stretches);
            if (all_met(rows_, counts)) offer(now.stretches);
            if (round == rounds / 4 || round + 1 == rounds) beam();
            if (best_.found && !(best_.score < best_.bound)) break;
            if (without_progress == 6) {
                pace *= 0.6;
                without_progress = 0;
            }
            double square = 0.0;
            for (std::size_t k = 0; k < rows_.size(); ++k) {
                direction[k] = slope(k, static_cast<double>(counts[k]));
                square += direction[k] * direction[k];
            }
            if (!(square > 0.0)) { // no multipliers give a lower bound
                beam();
                break;
            }
            const auto bound = static_cast<double>(now.bound);
            const double target = best_.found ? static_cast<double>(best_.score) : bound - 0.05 * std::abs(bound) - 1.0;
            const double step = pace * std::max(bound - target, 0.0) / square;
            for (std::size_t k = 0; k < rows_.size(); ++k) move(k, -step * direction[k]);
        }
        if (best_.found && best_.bound < best_.score) best_.bound = best_.score; // rounding of floating scores
        return best_;
    }

private:
    struct relaxation {
        std::vector<stretch> stretches;
        score_type bound{};
    };

    /// All positions in one state, as in `count_states`, but of few states only.
    struct layer {
        std::vector<std::int64_t> counts; ///< by row; the least one of a row without a cap stands for more as well
        std::vector<reached<score_type>> row;
        std::vector<const layer*> before; ///< by row: the layer with one slab less of it, if it was kept
        double rank = 0.0;
    };

    [[nodiscard]] score_type whole(double multiplier) const {
        if constexpr (std::is_integral_v<score_type>)
            return static_cast<score_type>(std::llround(multiplier));
        else
            return static_cast<score_type>(multiplier);
    }

    [[nodiscard]] with_multipliers<O> priced_now() const {
        with_multipliers<O> priced{&objective_, std::vector<score_type>(problem_.option_count())};
        for (std::size_t k = 0; k < rows_.size(); ++k) priced.bonus[rows_[k].option] = whole(multipliers_[k]);
        return priced;
    }

    [[nodiscard]] relaxation relax() const {
        score_type constant{};
        for (std::size_t k = 0; k < rows_.size(); ++k) {
            const score_type m = whole(multipliers_[k]);
            constant += m * static_cast<score_type>(m < score_type{} ? rows_[k].most : rows_[k].least);
        }
        auto best = segment(problem_, priced_now());
        return {std::move(best.stretches), best.score - constant};
    }

    /// How the bound grows with a multiplier.
    [[nodiscard]] double slope(std::size_t k, double slabs) const {
        const auto least = static_cast<double>(rows_[k].least), most = static_cast<double>(rows_[k].most);
        const double m = multipliers_[k];
        if (m > 0.0) return slabs - least;
        if (m < 0.0) return slabs - most;
        return slabs < least ? slabs - least : slabs > most ? slabs - most : 0.0;
    }
    void move(std::size_t k, double by) {
        // Far beyond any use, and so that sums stay within 64 bits.
        constexpr double beyond = 1e15;
        double moved = std::clamp(multipliers_[k] + by, -beyond, beyond);
        // Zero is a kink of the bound unless both limits are one.
        if (multipliers_[k] * moved < 0.0 && rows_[k].least != rows_[k].most) moved = 0.0;
        if (!rows_[k].capped()) moved = std::max(moved, 0.0);
        multipliers_[k] = moved;
    }

    [[nodiscard]] std::size_t option_of(const stretch& s) const {
        return s.option + (s.kind == slab_kind::portions ? problem_.loose_count() : 0);
    }

    void offer(const std::vector<stretch>& stretches) {
        score_type sum{};
        for (const stretch& s : stretches) sum = sum + slab_score(objective_, option_of(s), s.from, s.to);
        if (best_.found && !(best_.score < sum)) return;
        best_.found = true;
        best_.score = sum;
        best_.stretches = stretches;
    }

    /// A plan by a beam of count states: level by level of slabs counted, the states that fall least behind the priced
    /// optimum somewhere along the loin. With few states on each level it is exact.
    /// An order of cuts is none of its states, so with one there is no beam, and plans are those that the prices lead to.
    void beam() {
        if (!problem_.rules().order.empty()) return;
        const with_multipliers<O> priced = priced_now();
        const layer_filler<with_multipliers<O>> free(problem_, priced);
        std::vector<reached<score_type>> optimum(problem_.cells() + 1);
        optimum[problem_.start()].source = reached<score_type>::origin;
        std::vector<typename layer_filler<with_multipliers<O>>::way> all_ways;
        for (std::size_t o = 0; o < problem_.option_count(); ++o) all_ways.push_back({o, optimum.data(), o});
        free.fill(optimum.data(), all_ways);

        std::int64_t most_levels = 1;
        for (const slab_demand& row : rows_) most_levels += top_of(row);
        const std::size_t width = most_entries / optimum.size() / static_cast<std::size_t>(most_levels);
        const layer_filler<O> filler(problem_, objective_);
        std::deque<std::vector<layer>> levels; // layers stay where they are
        std::map<std::vector<std::int64_t>, std::vector<const layer*>> wanted;
        wanted[std::vector<std::int64_t>(rows_.size())] = std::vector<const layer*>(rows_.size(), nullptr);
        while (!wanted.empty()) {
            std::vector<layer> level;
            for (const auto& [counts, before] : wanted) {
                layer l = filled(filler, counts, before, optimum);
                if (std::isfinite(l.rank)) level.push_back(std::move(l)); // or the state is beyond reach
            }
            std::stable_sort(level.begin(), level.end(),
                             [](const layer& a, const layer& b) { return b.rank < a.rank; });
            level.resize(std::min(level.size(), std::clamp(width, std::size_t{1}, widest)));
            wanted.clear();
            levels.push_back(std::move(level));
            for (const layer& l : levels.back()) {
                if (all_met(rows_, l.counts) && l.row.back()) offer(traced(l));
                for (std::size_t k = 0; k < rows_.size(); ++k) {
                    if (l.counts[k] == top_of(rows_[k])) continue;
                    std::vector<std::int64_t> counts = l.counts;
                    ++counts[k];
                    auto& before = wanted[counts];
                    before.resize(rows_.size(), nullptr);
                    before[k] = &l;
                }
            }
        }
    }

    [[nodiscard]] static std::int64_t top_of(const slab_demand& row) { return row.capped() ? row.most : row.least; }

    [[nodiscard]] layer filled(const layer_filler<O>& filler, const std::vector<std::int64_t>& counts,
                               const std::vector<const layer*>& before,
                               const std::vector<reached<score_type>>& optimum) const {
        layer l{counts, std::vector<reached<score_type>>(problem_.cells() + 1), before, 0.0};
        double price = 0.0;
        std::vector<typename layer_filler<O>::way> ways;
        std::vector<bool> counted(problem_.option_count());
        for (std::size_t k = 0; k < rows_.size(); ++k) {
            counted[rows_[k].option] = rows_[k].capped() || counts[k] < rows_[k].least;
            price += multipliers_[k] * static_cast<double>(counts[k]);
            if (before[k] != nullptr)
                ways.push_back({rows_[k].option, before[k]->row.data(), problem_.option_count() + k});
        }
        for (std::size_t o = 0; o < problem_.option_count(); ++o)
            if (!counted[o]) ways.push_back({o, l.row.data(), o});
        if (std::all_of(counts.begin(), counts.end(), [](std::int64_t n) { return n == 0; }))
            l.row[problem_.start()].source = reached<score_type>::origin;
        filler.fill(l.row.data(), ways);
        l.rank = -std::numeric_limits<double>::infinity();
        for (std::size_t p = problem_.start(); p < l.row.size(); ++p)
            if (l.row[p] && optimum[p])
                l.rank = std::max(l.rank,
                                  static_cast<double>(l.row[p].score) + price - static_cast<double>(optimum[p].score));
        return l;
    }

    [[nodiscard]] std::vector<stretch> traced(const layer& last) const {
        std::vector<stretch> stretches;
        const layer* l = &last;
        for (std::size_t at = problem_.cells(); at > problem_.start();) {
            const reached<score_type>& best = l->row[at];
            const bool stepped = best.source >= problem_.option_count();
            const std::size_t row = stepped ? best.source - problem_.option_count() : 0;
            stretches.push_back(stretch_of(problem_, stepped ? rows_[row].option : best.source, best.from, at));
            at = best.from;
            if (stepped) l = l->before[row];
        }
        std::reverse(stretches.begin(), stretches.end());
        return stretches;
    }

    static constexpr std::size_t widest = 32;                          ///< layers kept on a level
    static constexpr std::size_t most_entries = std::size_t{1} << 22U; ///< of all layers together

    const cutting_problem& problem_;
    const O& objective_;
    const std::vector<slab_demand>& rows_;
    std::vector<double> multipliers_;
    answer best_;
};

} // namespace tranche::detail
