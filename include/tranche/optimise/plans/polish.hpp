// Plans whose cuts lie between the positions of the profile's grid.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/on_finer_grid.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/plans/even_out.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A plan with its cuts on a finer grid.
struct polished_cuts {
    profile meat;             ///< the loin on the grid of the plan: what to `verify` it against and to draw it with
    tranche::planned planned; ///< weights are those of `meat`, in whole micrograms that add up to the loin

    friend bool operator==(const polished_cuts&, const polished_cuts&) = default;
};

namespace detail {

/// Moves the cuts of given slabs, in their order, to where they score most, each within a band about where it is; again
/// and again as long as that gains something.
template <objective O>
class cut_mover {
public:
    using score_type = typename O::score_type;

    cut_mover(const cutting_problem& problem, const O& objective, std::vector<stretch> slabs)
        : problem_(problem), objective_(objective), slabs_(std::move(slabs)) {}

    /// Cuts move at most `reach` positions a round. False if no cuts within reach keep every limit, or a score was not
    /// finite; the slabs then stay.
    bool run(std::size_t reach) {
        constexpr int most_rounds = 50;
        if (!move(reach)) return false;
        for (int round = 1; round < most_rounds; ++round) {
            const score_type before = score_;
            if (!move(reach) || !(before < score_)) break;
        }
        return true;
    }

    [[nodiscard]] const std::vector<stretch>& slabs() const { return slabs_; }
    [[nodiscard]] const score_type& score() const { return score_; }
    /// Whether every score looked at was.
    [[nodiscard]] bool finite() const { return finite_; }

private:
    /// The best way to have a cut at one of its places.
    struct reached_place {
        std::size_t at = 0;
        std::optional<score_type> score{};
        std::size_t from = 0; ///< index of the place of the cut before
    };

    /// The places of cut `i`, nearest to where it is first, so that what gains nothing stays.
    [[nodiscard]] std::vector<reached_place> places(std::size_t i, std::size_t reach) const {
        std::vector<reached_place> all{{slabs_[i].to, {}, 0}};
        if (i + 1 == slabs_.size()) return all; // the sirloin face
        for (std::size_t off = 1; off <= reach; ++off) {
            if (slabs_[i].to + off < problem_.cells()) all.push_back({slabs_[i].to + off, {}, 0});
            if (slabs_[i].to >= problem_.start() + 1 + off) all.push_back({slabs_[i].to - off, {}, 0});
        }
        return all;
    }

    bool move(std::size_t reach) {
        std::vector<std::vector<reached_place>> table{{{problem_.start(), score_type{}, 0}}};
        for (std::size_t i = 0; i < slabs_.size(); ++i) {
            const std::size_t option =
                slabs_[i].option + (slabs_[i].kind == slab_kind::portions ? problem_.loose_count() : 0);
            const auto& before = table.back();
            std::vector<reached_place> here = places(i, reach);
            for (reached_place& place : here)
                for (std::size_t k = 0; k < before.size(); ++k) {
                    if (!before[k].score || !problem_.allows(option, before[k].at, place.at)) continue;
                    const score_type score = *before[k].score + slab_score(objective_, option, before[k].at, place.at);
                    if (forbids(score)) continue;
                    finite_ = finite_ && is_finite(score);
                    if (place.score && !(*place.score < score)) continue;
                    place.score = score;
                    place.from = k;
                }
            table.push_back(std::move(here));
        }
        if (!finite_ || !table.back().front().score) return false;
        score_ = *table.back().front().score;
        for (std::size_t i = slabs_.size(), place = 0; i > 0; --i) {
            slabs_[i - 1].to = table[i][place].at;
            place = table[i][place].from;
            slabs_[i - 1].from = table[i - 1][place].at;
        }
        return true;
    }

    const cutting_problem& problem_;
    const O& objective_;
    std::vector<stretch> slabs_;
    score_type score_{};
    bool finite_ = true;
};

/// The slabs of a plan on another grid, each as thick as its spec allows where the plan's grid did not: a window
/// narrower than the grid is met by the nearest position there, which may lie half a step outside.
template <class = when_called>
[[nodiscard]] std::vector<stretch> slabs_on(const cutting_problem& fine, const cutting_plan& coarse) {
    const profile& meat = fine.meat();
    std::vector<stretch> slabs;
    length at = meat.position(fine.start());
    for (const slab& s : coarse.slabs) {
        if (s.kind == slab_kind::facing) continue;
        stretch moved{
            .from = slabs.empty() ? fine.start() : slabs.back().to, .kind = slab_kind::loose, .option = s.option};
        if (s.kind == slab_kind::portions) {
            const range<length>& window = coarse.spec_of(s).thickness;
            moved.kind = slab_kind::portions;
            at += std::clamp(s.thickness, window.min, window.max) + s.kerf;
        } else {
            at = std::max(at, s.end()); // loose meat takes up what portions before it gave or took
        }
        moved.to = &s == &coarse.slabs.back() ? meat.cells() : std::clamp(meat.nearest(at), moved.from, meat.cells());
        slabs.push_back(moved);
    }
    return slabs;
}

/// How many parts a cell of the grid has on one of `resolution` or a little finer.
template <class = when_called>
[[nodiscard]] std::size_t parts_of_a_cell(const profile& meat, length resolution) {
    require_positive(resolution, "resolution");
    const double parts = std::ceil(meat.step() / resolution - 1e-6);
    if (!(parts <= static_cast<double>(most_cells)))
        throw invalid_input("resolution", detail::shown(resolution),
                            "one that leaves no more cells than a profile may have");
    return std::max(std::size_t{1}, static_cast<std::size_t>(parts));
}

template <class = when_called>
[[nodiscard]] bool has_choice_of_one_thickness(const cut_spec& spec) {
    return spec.one_thickness && spec.thickness.min < spec.thickness.max;
}
template <class = when_called>
[[nodiscard]] bool has_choice_of_one_thickness(const std::vector<cut_spec>& specs) {
    return std::any_of(specs.begin(), specs.end(), [](const cut_spec& s) { return has_choice_of_one_thickness(s); });
}
template <class = when_called>
void refuse_choice_of_one_thickness(const std::vector<cut_spec>& specs) {
    for (const cut_spec& spec : specs)
        if (has_choice_of_one_thickness(spec))
            throw invalid_input(spec.name + ": one_thickness", "true",
                                "false where cuts move one by one between the positions of the grid; give a single "
                                "thickness");
}

/// A plan on the finer grid, or that of the profile's own where there is none on the finer one.
struct polished_plan {
    planned found;
    bool finer = true;
};

/// `polish` for a want that is an objective: that of the finer problem.
template <want W, objective O>
[[nodiscard]] polished_plan polished_by(const profile& meat, const cutting_request& request, const W& want,
                                        const cutting_problem& problem, const O& objective, std::size_t parts) {
    if constexpr (separable_objective<O>)
        if (request.demands.empty() || has_choice_of_one_thickness(request.cuts))
            return {plan(problem, objective, request.demands)};
    refuse_choice_of_one_thickness(request.cuts);
    planned coarse = plan(meat, request, want);
    if (!coarse.feasible()) return {std::move(coarse), false};
    cut_mover<O> mover(problem, objective, slabs_on(problem, coarse.plan));
    if (!mover.run(parts) && !mover.run(4 * parts)) {
        if (!mover.finite()) say_not_finite(coarse);
        return {std::move(coarse), false};
    }
    std::vector<stretch> slabs = mover.slabs();
    even_out(problem, objective, slabs);
    planned found = planned_from(problem, slabs, mover.score(), mover.finite());
    if (found.stop == stop_reason::optimal) say_gap_left(found);
    return {std::move(found)};
}
} // namespace detail

/// The plan of a request with its cuts on a grid of `resolution` or a little finer, whatever the grid of the profile.
///
/// - Separable objectives without demands are planned on the finer grid outright: the plan is the best one there, and
///   may have more portions than that of the coarse grid. O(positions × options) of the finer grid, some 42 000
///   positions on a loin of 42 cm at 0.01 mm. So are they with demands if a cut must have one thickness and may choose it:
///   all of its slabs move together then, by a branch and bound over thicknesses of some hundred such searches, each times
///   the count states of the demands. Where those are more than the exact search takes, the relaxation of demands makes it
///   seconds instead of tenths.
/// - Otherwise the plan of the profile's own grid is made first, and its cuts then move, in their order, to where they
///   score most: each round looks at all combinations of neighbouring cuts within a step of the coarse grid, and
///   rounds go on as long as they gain. O(slabs × (step / resolution)²) a round. That is the best plan nearby, not
///   proven to be the best of all: `stop` is `gap_left`, and its `bound` and `gap` are NaN.
///
/// Then `even_out` on the finer grid. A window of thickness narrower than the profile's grid, which a plan there may
/// miss by half a step, is kept to half of `resolution`. If the slabs of the coarse plan cannot keep such windows (one
/// of them must go), and in the second case only, the coarse plan comes back as it is, and `meat` is on the profile's
/// grid. So it does, with `stop` `objective_not_finite`, if the objective is not finite for a slab of the finer grid.
///
/// `resolution` is above zero; finer than the most cells that a profile may have throws `invalid_input`, as does what
/// `plan` refuses and, in the second case, a spec that must have one thickness and may choose it: cuts that move one by
/// one would not keep it. What the masses miss between positions: see `on_finer_grid`. For `even_portions` there is
/// `polish_even_portions`.
template <want W>
[[nodiscard]] polished_cuts polish(const profile& meat, const cutting_request& request, const W& want,
                                   length resolution = 0.01 * millimetre) {
    if constexpr (requires { want.polished(meat, request, resolution); })
        return want.polished(meat, request, resolution);
    else {
        const std::size_t finer = detail::parts_of_a_cell(meat, resolution);
        profile fine = on_finer_grid(meat, finer);
        if constexpr (planning_want<W>) {
            planned found = want(fine, request);
            return {std::move(fine), std::move(found)};
        } else {
            const cutting_problem problem(fine, request.cuts, request.rules);
            detail::polished_plan best = detail::with_objective(want, problem, [&](const auto& objective) {
                return detail::polished_by(meat, request, want, problem, objective, finer);
            });
            if (!best.finer) return {meat, std::move(best.found)};
            return {std::move(fine), std::move(best.found)};
        }
    }
}

} // namespace tranche
