// More than one plan: the best ones that differ, and all numbers of portions that are nearly as good as the best.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <optional>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/engine/detail/best_first.hpp>
#include <tranche/optimise/engine/detail/demands/count_beam.hpp>
#include <tranche/optimise/engine/detail/demands/priced_score.hpp>
#include <tranche/optimise/engine/detail/thickness_choices.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/plans/cut_regrets.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// How many portions of each spec a plan has, and what it scores: a result of counts alone.
struct portion_counts {
    std::vector<std::size_t> portions{}; ///< by spec
    std::vector<double> score{};         ///< part by part, as `planned::score_parts`
    double lost = 0.0;                   ///< against the best plan, in the first part in which they differ
    std::size_t part = 0;                ///< which part that is, from 0

    friend bool operator==(const portion_counts&, const portion_counts&) = default;
};

namespace detail {

template <class = when_called>
[[nodiscard]] std::vector<std::size_t> portions_of(const cutting_problem& problem,
                                                   const std::vector<grid_slab>& slabs) {
    std::vector<std::size_t> portions(problem.specs().size());
    for (const grid_slab& s : slabs)
        if (s.kind == slab_kind::portions)
            portions[s.option] += static_cast<std::size_t>(problem.specs()[s.option].pieces);
    return portions;
}

/// Whether a cut lies between two slabs: not between pieces of one kind of loose meat, which are one piece.
[[nodiscard]] inline bool is_cut(const cutting_problem& problem, const grid_slab& a, const grid_slab& b) {
    const bool loose = a.kind == slab_kind::loose && b.kind == slab_kind::loose && a.option == b.option;
    return !loose || problem.places().is_pinned(b.from);
}

/// Which of some plans a path is still like: by plan, in its label, the number of cuts that lie near its own, plus one; 0 once one
/// does not. Behind those the slabs of each spec, as long as there is such a plan.
template <class = when_called>
class unlike_plans {
public:
    unlike_plans(const cutting_problem& problem, length apart) : problem_(problem), apart_(apart) {}

    void add(const std::vector<grid_slab>& slabs) {
        like known{{}, path_label(problem_.specs().size(), U'\0')};
        for (std::size_t i = 0; i < slabs.size(); ++i) {
            if (i > 0 && is_cut(problem_, slabs[i - 1], slabs[i])) known.cuts.push_back(slabs[i].from);
            if (slabs[i].kind == slab_kind::portions) ++known.counts[slabs[i].option];
        }
        plans_.push_back(std::move(known));
    }
    [[nodiscard]] path_label first() const {
        return path_label(plans_.size(), U'\1') + path_label(plans_.empty() ? 0 : problem_.specs().size(), U'\0') +
               path_label(1, U'\0');
    }
    /// The last letter is the kind of the last slab: 0 for portions, loose cuts from 1 on.
    [[nodiscard]] path_label operator()(path_label label, const std::optional<grid_slab>& last,
                                        const grid_slab& slab) const {
        label.pop_back();
        const std::size_t plans = plans_.size();
        const bool cut = last && is_cut(problem_, *last, slab);
        bool any = false;
        for (std::size_t k = 0; k < plans; ++k) {
            if (label[k] == 0) continue;
            const std::size_t matched = label[k] - 1;
            if (cut) label[k] = near(k, matched, slab.from) ? label[k] + 1 : U'\0';
            any = any || label[k] != 0;
        }
        if (!any) label.resize(plans);
        if (any && slab.kind == slab_kind::portions) ++label[plans + slab.option];
        label.push_back(slab.kind == slab_kind::loose ? static_cast<char32_t>(slab.option + 1) : U'\0');
        return label;
    }
    /// Of a whole tiling: whether it differs from each of the plans in a cut or a count.
    [[nodiscard]] bool unlike_all(const path_label& label) const {
        for (std::size_t k = 0; k < plans_.size(); ++k)
            if (label[k] == plans_[k].cuts.size() + 1 &&
                label.compare(plans_.size(), problem_.specs().size(), plans_[k].counts) == 0)
                return false;
        return true;
    }

private:
    struct like {
        std::vector<std::size_t> cuts;
        path_label counts;
    };
    [[nodiscard]] bool near(std::size_t plan, std::size_t cut, std::size_t at) const {
        const std::vector<std::size_t>& cuts = plans_[plan].cuts;
        if (cut >= cuts.size()) return false;
        const length a = problem_.meat().position(cuts[cut]), b = problem_.meat().position(at);
        return snapped(a < b ? b - a : a - b) < apart_;
    }

    const cutting_problem& problem_;
    length apart_;
    std::vector<like> plans_;
};

/// use(problem, objective, rows) unless the objective is not finite or no plan has what the demands ask for.
template <objective_want W, class Use>
void with_possible(const profile& meat, const cutting_request& request, const W& want, const Use& use) {
    const cutting_problem problem(meat, request.cuts, request.rules);
    validate(request.demands, problem.specs());
    with_objective(want, problem, [&](const auto& objective) {
        if (!all_finite(problem.graph(), objective)) return;
        const slab_demands wanted = in_slabs(problem, request.demands);
        if (wanted.shortfalls.empty()) use(problem, objective, wanted.rows);
    });
}

/// The numbers of slabs of plans that come near the best: a search through their states that leaves out what cannot.
template <objective O>
class counts_near_best {
public:
    using score_type = typename O::score_type;

    counts_near_best(const cutting_problem& problem, const O& objective, const std::vector<demand>& demands,
                     const std::vector<slab_demand>& rows, double gap, search_clock& clock)
        : problem_(problem), objective_(objective), demands_(demands), rows_(rows), gap_(gap), clock_(clock) {}

    [[nodiscard]] found_list<portion_counts> run() {
        found_list<portion_counts> counts;
        const auto first = path_with_demand(problem_, objective_, demands_, clock_);
        if (first.finite && first.outcome == demand_outcome::met) {
            best_ = first.score;
            mixes_.emplace(portions_of(problem_, first.stretches), best_);
            std::size_t looked_at = 0;
            each_thickness_choice(
                problem_, [&](const cutting_problem& one) { look_at(one), ++looked_at; },
                [&] {
                    left_over_ = left_over_ || looked_at == most_thickness_choices;
                    return !left_over_ && !clock_.stopped();
                });
        }
        std::vector<const found_mix*> near;
        for (const auto& mix : mixes_) near.push_back(&mix);
        std::stable_sort(near.begin(), near.end(),
                         [](const found_mix* a, const found_mix* b) { return b->second < a->second; });
        for (const found_mix* mix : near) {
            portion_counts found{mix->first, numbers_of(mix->second)};
            std::tie(found.lost, found.part) = lost_against(near.front()->second, mix->second);
            if (found.part > 0 || found.lost <= gap_) counts.push_back(std::move(found));
        }
        counts.ended = clock_.stopped() ? clock_.ended() : left_over_ ? search_end::out_of_work : search_end::by_itself;
        return counts;
    }

private:
    using number = std::conditional_t<std::is_integral_v<leaf_type<score_type, 0>>, std::int64_t,
                                      double>; // the first of the score
    using found_mix = std::pair<const std::vector<std::size_t>, score_type>;

    void look_at(const cutting_problem& one) {
        priced_objective<number, separable_slabs_of<O>> value(one, objective_);
        value.set({.price = {1}, .bonus = std::vector<number>(one.option_count())});
        std::vector<slab_demand> all;
        for (std::size_t o = one.loose_count(); o < one.option_count(); ++o) {
            slab_demand row{.option = o, .most = best_path(one, slab_count_objective{o}).score};
            for (const slab_demand& asked : rows_)
                if (asked.option == o) row.least = asked.least, row.most = std::min(row.most, asked.most);
            if (row.least > row.most) return;
            all.push_back(row);
        }
        const order_states orders = order_states_within(one, most_ordered_entries);
        count_beam<O, number> search(one, objective_, value, number{}, all, orders,
                                     [&](const std::vector<grid_slab>& slabs, const score_type& score) {
                                         if (forbids(score)) return;
                                         const auto [at, is_new] = mixes_.try_emplace(portions_of(one, slabs), score);
                                         if (!is_new && at->second < score) at->second = score;
                                         if (best_ < score) best_ = score;
                                     });
        const auto target = [&]() -> std::optional<number> {
            const number best = leaf_as<number>(best_, 0);
            if constexpr (std::is_integral_v<number>)
                return best -
                       static_cast<number>(std::min(std::floor(gap_), 0x1p62 - std::abs(static_cast<double>(best))));
            else
                return best - gap_ - unfused(1e-12 * (std::abs(best) + gap_));
        };
        const beam_limits limits{.width = std::numeric_limits<std::size_t>::max(),
                                 .states = std::numeric_limits<std::size_t>::max(),
                                 .kept = std::size_t{1} << 25U};
        const auto outcome = search.run(limits, target, clock_);
        left_over_ = left_over_ || outcome.above.has_value();
    }

    const cutting_problem& problem_;
    const O& objective_;
    const std::vector<demand>& demands_;
    const std::vector<slab_demand>& rows_;
    double gap_;
    search_clock& clock_;
    score_type best_{};
    bool left_over_ = false;
    std::map<std::vector<std::size_t>, score_type> mixes_; ///< by portions of each spec
};

} // namespace detail

/// How many plans to show, and how far a cut has to move for a plan to be another one.
struct plan_choice {
    std::size_t most = 1;
    length apart = 5.0 * millimetre; ///< above zero

    friend bool operator==(const plan_choice&, const plan_choice&) = default;
};

/// The best plan, and then again and again the best one that differs from each before it, `choice.most` of them if there are as
/// many: in the portions of a spec, in the number of cuts, or by `choice.apart` or more in a cut (the first from the rib against the
/// first, and so on; pieces of loose meat that lie side by side are one). Best first; each has what the demands ask for and keeps
/// every limit, and its `bound` is its score: there is no better one that differs. Plans are not evened out. Empty where no plan has
/// what the demands ask for, and where the objective is not finite.
///
/// By best-first search: in the worst case a look at each slab for each label that a path may have, which are few, as
/// only paths whose cuts all lie near those of a plan have any but one. The best rest of the loin behind a path is
/// looked up in a table of the states of demands; of those that `search.most_entries` does not hold each path keeps its
/// own count, which takes longer. A pass of `search` is as many paths gone on with as there are positions; where it
/// ends, or four million paths are kept, the plans so far are the answer, and `ended` says so. Throws `invalid_input`
/// for an `apart` that is not above zero, and what `plan` does. `choice.apart` is a length, scores are in units of the
/// objective. Source of the search: A*, Hart, Nilsson and Raphael (1968), *IEEE Trans. SSC* 4, 100-107, from memory.
template <objective_want W>
[[nodiscard]] found_list<planned> best_plans(const profile& meat, const cutting_request& request, const W& want,
                                             const plan_choice& choice, const search_limits& search = {}) {
    detail::require_positive(choice.apart, "apart");
    found_list<planned> plans;
    detail::with_possible(meat, request, want, [&](const auto& problem, const auto& objective, const auto& rows) {
        detail::search_clock clock(search);
        detail::best_first paths(problem, objective, rows, search.most_entries);
        detail::unlike_plans<> unlike(problem, detail::snapped(choice.apart));
        for (bool found = true; found && plans.size() < choice.most;) {
            found = false;
            const bool all = paths.run(
                unlike.first(), unlike,
                [&](const std::vector<grid_slab>& slabs, const auto& score, const detail::path_label& label) {
                    if (!unlike.unlike_all(label)) return true;
                    plans.push_back(detail::planned_from(problem, slabs, score));
                    unlike.add(slabs);
                    found = true;
                    return false;
                },
                clock);
            if (!all) plans.ended = search_end::out_of_work;
        }
        if (clock.stopped()) plans.ended = clock.ended();
    });
    return plans;
}

/// All numbers of portions that a plan can have which scores no more than `gap` less than the best one, in the first number of the
/// score and its units: for each the best score, best first. A gap of zero leaves those that are as good as the best in that. Of
/// a score of portions and then mass a gap of 1 gives all mixes with at most one portion less.
///
/// Each has what the demands ask for and keeps every limit; empty where no plan has, and where the objective is not finite. Exact, by
/// the count states of all specs from which the rest of the loin leads to within the gap (`detail::count_beam`): a pass a state; of
/// floating scores up to rounding. Where `search` ends it, or it would take more than 2^25 entries of a score and 8 bytes, mixes may be
/// missing and have better scores, and `ended` says so. A common thickness takes all of that for each of its choices, of which 2000
/// are looked at. Throws `invalid_input` for a gap below zero or not finite, and what `plan` does.
template <objective_want W>
[[nodiscard]] found_list<portion_counts> counts_within(const profile& meat, const cutting_request& request,
                                                       const W& want, double gap, const search_limits& search = {}) {
    detail::require_not_negative(gap, "gap");
    found_list<portion_counts> counts;
    detail::with_possible(meat, request, want, [&](const auto& problem, const auto& objective, const auto& rows) {
        using objective_type = std::decay_t<decltype(objective)>;
        static_assert(detail::numbers_first<typename objective_type::score_type, 1>,
                      "counts within a gap are those of a score that has a number in front");
        detail::search_clock clock(search);
        detail::counts_near_best<objective_type> near(problem, objective, request.demands, rows, gap, clock);
        counts = near.run();
    });
    return counts;
}

/// The counts of the best plan alone, without its weights: for studies over many loins, which ask how many and not
/// where. Nothing where no plan has what the demands ask for, or none was found that has, and where the objective is
/// not finite. O(positions × cuts) for separable objectives, times the states of demands. Throws what `plan` does.
/// Counts are portions, scores in units of the objective.
template <objective_want W>
[[nodiscard]] std::optional<portion_counts> best_counts(const profile& meat, const cutting_request& request,
                                                        const W& want, const search_limits& search = {}) {
    const cutting_problem problem(meat, request.cuts, request.rules);
    return detail::with_objective(want, problem, [&](const auto& objective) -> std::optional<portion_counts> {
        const auto of = [&](const auto& found) -> std::optional<portion_counts> {
            if (!found.finite) return std::nullopt;
            return portion_counts{detail::portions_of(problem, found.stretches), detail::numbers_of(found.score)};
        };
        if (request.demands.empty()) return of(best_path(problem, objective, search));
        const auto found = best_path_with_demand(problem, objective, request.demands, search);
        return found.outcome == demand_outcome::met ? of(found) : std::nullopt;
    });
}

} // namespace tranche
