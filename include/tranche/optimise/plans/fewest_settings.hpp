// Among plans of equal score: the one for which a slicer is set to the fewest thicknesses.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <tuple>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/detail/allowed_slabs.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/linked_slabs.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// A plan, and how many thicknesses its slabs of portions have.
struct few_settings {
    tranche::planned planned;
    std::size_t settings = 0; ///< thicknesses in the plan
    std::size_t at_least = 0; ///< no plan of the same score by the first objective has fewer

    friend bool operator==(const few_settings&, const few_settings&) = default;
};

namespace detail {

/// The number of distinct thicknesses is no sum over slabs, so plans are searched by sets of thicknesses: branch and bound,
/// where a node is a set that is chosen and one that is still allowed, and the best tiling by allowed ones bounds it. Where
/// the slabs of a spec must have one thickness and a bound's have several, the range of that spec is split between them.
template <objective O>
class settings_search {
public:
    using score_type = typename O::score_type;
    using settings_set = std::vector<bool>; // by thickness, thinnest first

    struct tiling {
        std::vector<stretch> stretches;
        score_type score{};
        settings_set used;
        [[nodiscard]] std::size_t settings() const {
            return static_cast<std::size_t>(std::count(used.begin(), used.end(), true));
        }
    };

    settings_search(const cutting_problem& problem, const O& objective, std::size_t most_tilings)
        : problem_(problem), objective_(objective), orders_(order_states_within(problem, most_ordered_entries)),
          linked_(problem.varying()), left_(most_tilings), slabs_to_(problem.cells() + 1) {
        each_slab([&](std::size_t o, std::size_t from, std::size_t to) { all_.push_back(thickness(o, from, to)); });
        std::sort(all_.begin(), all_.end());
        all_.erase(std::unique(all_.begin(), all_.end()), all_.end());
        each_slab([&](std::size_t o, std::size_t from, std::size_t to) {
            slabs_to_[to].push_back({from, o, setting_of(o, from, to), problem.cells_of(o, from, to)});
        });
    }

    [[nodiscard]] bool exhausted() const { return left_ == 0; }
    /// Tilings searched for so far.
    [[nodiscard]] std::size_t searched() const { return searched_; }

    /// The stretches of another search, as a tiling.
    [[nodiscard]] tiling as_tiling(std::vector<stretch> stretches, const score_type& score) const {
        tiling result{.stretches = std::move(stretches), .score = score, .used = settings_set(all_.size())};
        for (const stretch& s : result.stretches)
            if (s.kind == slab_kind::portions)
                result.used[setting_of(problem_.loose_count() + s.option, s.from, s.to)] = true;
        return result;
    }
    /// The best tiling by all thicknesses, were it not for those in common.
    [[nodiscard]] std::optional<tiling> best() { return best(settings_set(all_.size(), true), {}); }

    /// The best tiling of at most `most` settings that `enough` accepts; none if there is none, or tilings ran out.
    template <class Enough>
    [[nodiscard]] std::optional<tiling> with_at_most(std::size_t most, const Enough& enough) {
        std::optional<tiling> best_found;
        node all{settings_set(all_.size()), settings_set(all_.size(), true), {}};
        if (!linked_.empty()) all.cells.assign(problem_.option_count(), {0, problem_.cells() + 1});
        visit(most, all, enough, best_found);
        return best_found;
    }

private:
    struct slab_set_to {
        std::size_t from, option, setting, cells;
    };
    using cell_ranges = std::vector<std::pair<std::size_t, std::size_t>>; // by option; empty: any

    struct node {
        settings_set chosen, allowed;
        cell_ranges cells;
    };

    /// Of a loose cut: the best start so far, with the opening there.
    struct loose_start {
        reached<score_type> best{};
        std::size_t next = 0;
    };

    /// The best tiling by allowed thicknesses; none if the objective forbids all. O((slabs + positions × loose cuts) × states of the order), or positions² if
    /// the objective looks at whole slabs.
    [[nodiscard]] std::optional<tiling> best(const settings_set& allowed, const cell_ranges& cells) {
        if (left_ > 0) --left_;
        ++searched_;
        const std::size_t start = problem_.start(), end = problem_.cells(), width = end + 1;
        const std::size_t orders = orders_.count(), options = problem_.option_count();
        std::vector<reached<score_type>> table(orders * width);
        std::vector<std::size_t> setting(table.size());
        table[start].source = reached<score_type>::origin;
        std::vector<loose_start> loose(orders * problem_.loose_count(), loose_start{.next = start});
        for (std::size_t to = start + 1; to <= end; ++to) {
            for (std::size_t order = 0; order < orders; ++order)
                for (std::size_t o = 0; o < problem_.loose_count(); ++o)
                    offer_loose(&table[order * width], o, order * options + o, to,
                                loose[order * problem_.loose_count() + o]);
            for (const slab_set_to& s : slabs_to_[to]) {
                if (!allowed[s.setting]) continue;
                if (!cells.empty() && (s.cells < cells[s.option].first || cells[s.option].second < s.cells)) continue;
                for (std::size_t order = 0; order < orders; ++order) {
                    const reached<score_type>& from = table[order * width + s.from];
                    const std::size_t behind = orders_.behind(order, s.option);
                    if (!from || behind == order_states::none) continue;
                    const score_type score = from.score + slab_score(objective_, s.option, s.from, to);
                    reached<score_type>& into = table[behind * width + to];
                    if (into && !(into.score < score)) continue;
                    into.offer(score, s.from, order * options + s.option);
                    setting[behind * width + to] = s.setting;
                }
            }
        }
        std::size_t order = 0;
        for (std::size_t other = 1; other < orders; ++other)
            if (const auto& last = table[other * width + end], &so_far = table[order * width + end];
                last && (!so_far || so_far.score < last.score))
                order = other;
        if (!table[order * width + end]) return std::nullopt;
        tiling result{.stretches = {}, .score = table[order * width + end].score, .used = settings_set(all_.size())};
        for (std::size_t at = end; at > start;) {
            const reached<score_type>& last = table[order * width + at];
            result.stretches.push_back(stretch_of(problem_, last.source % options, last.from, at));
            if (problem_.is_portion(last.source % options)) result.used[setting[order * width + at]] = true;
            order = last.source / options;
            at = last.from;
        }
        std::reverse(result.stretches.begin(), result.stretches.end());
        return result;
    }

    void offer_loose(reached<score_type>* table, std::size_t o, std::size_t source, std::size_t to,
                     loose_start& starts) const {
        if constexpr (separable_objective<O>) {
            if (to < problem_.cells()) {
                for (; starts.next < to && problem_.allows(o, starts.next, to); ++starts.next)
                    if (table[starts.next])
                        starts.best.offer(table[starts.next].score + objective_.opening(o, starts.next), starts.next,
                                          source);
                if (starts.best)
                    table[to].offer(starts.best.score + objective_.closing(o, to), starts.best.from, source);
                return;
            }
        }
        for (std::size_t from = problem_.start(); from < to; ++from)
            if (table[from] && problem_.allows(o, from, to))
                table[to].offer(table[from].score + slab_score(objective_, o, from, to), from, source);
    }

    template <class F>
    void each_slab(const F& f) const {
        for (std::size_t o = problem_.loose_count(); o < problem_.option_count(); ++o)
            each_allowed_slab(problem_, o, [&](std::size_t from, std::size_t to) { f(o, from, to); });
    }
    /// In grains. Up to the sirloin face there is no cut: the thickness is the one that the slab is nearest to.
    [[nodiscard]] std::int64_t thickness(std::size_t o, std::size_t from, std::size_t to) const {
        const length thick =
            static_cast<double>(problem_.cells_of(o, from, to)) * problem_.meat().step() - problem_.kerf(o);
        return std::llround(in_grains(thick));
    }

    [[nodiscard]] std::size_t setting_of(std::size_t o, std::size_t from, std::size_t to) const {
        return static_cast<std::size_t>(std::lower_bound(all_.begin(), all_.end(), thickness(o, from, to)) -
                                        all_.begin());
    }

    template <class Enough>
    void visit(std::size_t most, const node& at, const Enough& enough, std::optional<tiling>& best_found) {
        if (exhausted()) return;
        const auto count = static_cast<std::size_t>(std::count(at.chosen.begin(), at.chosen.end(), true));
        std::optional<tiling> found = best(count == most ? at.chosen : at.allowed, at.cells);
        if (!found || !enough(found->score) || (best_found && !(best_found->score < found->score))) return;
        tiling& bound = *found;
        for (const std::size_t o : linked_) {
            const auto [thin, thick] = used_cells(problem_, o, bound.stretches);
            if (thin >= thick) continue;
            node thinner = at, thicker = at;
            thinner.cells[o].second = (thin + thick - 1) / 2;
            thicker.cells[o].first = thinner.cells[o].second + 1;
            visit(most, thicker, enough, best_found);
            visit(most, thinner, enough, best_found);
            return;
        }
        if (bound.settings() <= most) {
            best_found = std::move(bound);
            return;
        }
        // Of the thicknesses that the bound uses beside the chosen ones there is at least one.
        std::size_t next = 0;
        while (at.chosen[next] || !bound.used[next]) ++next;
        node with = at, without = at;
        with.chosen[next] = true;
        without.allowed[next] = false;
        visit(most, with, enough, best_found);
        visit(most, without, enough, best_found);
    }

    const cutting_problem& problem_;
    const O& objective_;
    order_states orders_;
    std::vector<std::size_t> linked_; ///< options whose slabs must have one thickness
    std::size_t left_, searched_ = 0;
    std::vector<std::int64_t> all_; ///< thicknesses in nanometres, thinnest first
    std::vector<std::vector<slab_set_to>> slabs_to_;
};

} // namespace detail

/// Among plans that score highest by `first`, one with the fewest thicknesses; among those the highest by `then`.
///
/// Exact by branch and bound over sets of thicknesses, with one number of settings tried after the other, as long as no more
/// than `most_tilings` tilings have to be looked at: enough for three settings out of some thirty thicknesses. When they run
/// out, the plan is the best one found, `at_least` says how few settings there might be at the least, and `stop` is
/// `gap_left`: with fewer settings, or with as many, there may be a better one; `bound_parts` are then what both objectives
/// reach with any number of settings. `states` is how many tilings were searched for.
///
/// Scores of `first` have to tie for it to matter: numbers of portions do, weights to the microgram do not. A slab at the
/// sirloin face, where there is no cut, counts with the thickness that it is nearest to. An order of cuts multiplies the work
/// of a tiling as that of `segment`, and throws as there; cuts that must have one thickness take more tilings.
template <objective First, objective Then>
[[nodiscard]] few_settings fewest_settings(const cutting_problem& problem, const First& first, const Then& then,
                                           std::size_t most_tilings = 10'000) {
    const auto both = lexicographic(first, then);
    using search = detail::settings_search<lexicographic_objective<First, Then>>;
    const auto free = segment(problem, both);
    if (!free.finite) return {detail::planned_from(problem, free.stretches, free.score, false)};
    search sets(problem, both, most_tilings);
    const auto enough = [&](const typename search::score_type& score) {
        return !(std::get<0>(score.parts) < std::get<0>(free.score.parts));
    };
    typename search::tiling chosen =
        problem.varying().empty() ? sets.best().value() : sets.as_tiling(free.stretches, free.score);
    std::size_t at_least = 0;
    while (at_least < chosen.settings()) {
        auto found = sets.with_at_most(at_least, enough);
        if (found) chosen = *std::move(found);
        if (found || sets.exhausted()) break;
        ++at_least;
    }
    few_settings result{detail::planned_from(problem, chosen.stretches, chosen.score, true), chosen.settings(),
                        std::min(at_least, chosen.settings())};
    result.planned.searched.states = free.searched + sets.searched();
    if ((result.at_least < result.settings || sets.exhausted()) && result.planned.feasible())
        detail::say_gap_left(result.planned, detail::numbers_of(free.score));
    return result;
}

/// The most portions with the fewest settings of the slicer; among such plans the most mass in portions. Throws as
/// `most_portions`.
template <class = detail::when_called>
[[nodiscard]] few_settings fewest_settings(const profile& meat, const cut_list& specs,
                                           const cutting_rules& rules = {}) {
    const cutting_problem problem(meat, specs, rules);
    return fewest_settings(problem, portion_count_objective(problem), portion_mass_objective(problem));
}

} // namespace tranche
