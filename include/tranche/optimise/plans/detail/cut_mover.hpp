// Cuts that move on a finer grid, in the order that a plan has them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche::detail {

/// Moves the cuts of given slabs, in their order, to where they score most, each within a band about where it is; again
/// and again as long as that gains something.
template <objective O>
class cut_mover {
public:
    using score_type = typename O::score_type;

    /// `cells`: how thick each slab must be, as `cutting_problem::cells_of` counts it; 0 for any thickness.
    cut_mover(const cutting_problem& problem, const O& objective, std::vector<grid_slab> slabs,
              std::vector<std::size_t> cells = {})
        : problem_(&problem), objective_(&objective), slabs_(std::move(slabs)), cells_(std::move(cells)) {
        cells_.resize(slabs_.size());
    }

    /// Cuts move at most `reach` positions a round. False if no cuts within reach keep every limit, or a score was not
    /// finite; the slabs then stay. go_on() is asked before each round but the first.
    template <class GoOn = always>
    bool run(std::size_t reach, const GoOn& go_on = {}) {
        constexpr int most_rounds = 50;
        if (!move(reach)) return false;
        for (int round = 1; round < most_rounds && go_on(); ++round) {
            const score_type before = score_;
            if (!move(reach) || !(before < score_)) break;
        }
        return true;
    }

    [[nodiscard]] const std::vector<grid_slab>& slabs() const { return slabs_; }
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
            if (slabs_[i].to + off < problem_->cells()) all.push_back({slabs_[i].to + off, {}, 0});
            if (slabs_[i].to >= problem_->start() + 1 + off) all.push_back({slabs_[i].to - off, {}, 0});
        }
        return all;
    }

    bool move(std::size_t reach) {
        std::vector<std::vector<reached_place>> table{{{problem_->start(), score_type{}, 0}}};
        for (std::size_t i = 0; i < slabs_.size(); ++i) {
            const std::size_t option = option_of(*problem_, slabs_[i]);
            const auto& before = table.back();
            std::vector<reached_place> here = places(i, reach);
            for (reached_place& place : here)
                for (std::size_t k = 0; k < before.size(); ++k) {
                    if (!before[k].score || !problem_->allows(option, before[k].at, place.at)) continue;
                    if (cells_[i] != 0 && cells_[i] != problem_->cells_of(option, before[k].at, place.at)) continue;
                    const score_type score = *before[k].score + slab_score(*objective_, option, before[k].at, place.at);
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

    const cutting_problem* problem_;
    const O* objective_;
    std::vector<grid_slab> slabs_;
    std::vector<std::size_t> cells_;
    score_type score_{};
    bool finite_ = true;
};

/// The slabs of a plan on another grid, each as thick as its spec allows where the plan's grid did not: a window
/// narrower than the grid is met by the nearest position there, which may lie half a step outside.
template <class = when_called>
[[nodiscard]] std::vector<grid_slab> slabs_on(const cutting_problem& fine, const cutting_plan& coarse) {
    const profile& meat = fine.meat();
    std::vector<grid_slab> slabs;
    length at = meat.position(fine.start());
    for (const slab& s : coarse.slabs) {
        if (s.kind == slab_kind::facing) continue;
        grid_slab moved{
            .from = slabs.empty() ? fine.start() : slabs.back().to, .kind = slab_kind::loose, .option = s.option};
        if (s.kind == slab_kind::portions) {
            const quantity_range<length>& window = coarse.spec_of(s).thickness;
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

/// Slabs of a plan that must keep a thickness in common, in groups.
struct thickness_groups {
    static constexpr std::size_t none = static_cast<std::size_t>(-1);

    std::vector<std::size_t> of;    ///< of each slab: its group, or `none`
    std::vector<std::size_t> more;  ///< of each slab: the cells that its kerf adds to those of its group
    std::vector<std::size_t> cells; ///< of each group

    /// How thick each slab must be; 0 for any thickness.
    [[nodiscard]] std::vector<std::size_t> of_slabs(const std::vector<std::size_t>& groups) const {
        std::vector<std::size_t> all(of.size());
        for (std::size_t i = 0; i < of.size(); ++i)
            if (of[i] != none) all[i] = groups[of[i]] + more[i];
        return all;
    }
};

/// The groups of slabs on the finer grid that have the same `key(slab)`, a whole number; below zero for a slab by itself.
template <class Key>
[[nodiscard]] thickness_groups groups_by(const cutting_problem& fine, const std::vector<grid_slab>& slabs,
                                         const Key& key) {
    thickness_groups groups;
    std::vector<std::int64_t> keys;
    for (std::size_t i = 0; i < slabs.size(); ++i) {
        const std::int64_t of_slab = slabs[i].kind == slab_kind::portions ? key(i) : -1;
        groups.of.push_back(thickness_groups::none);
        groups.more.push_back(0);
        if (of_slab < 0) continue;
        const std::size_t option = fine.loose_count() + slabs[i].option;
        const auto kerf = static_cast<std::size_t>(std::llround(fine.kerf(option) / fine.meat().step()));
        const std::size_t cells = fine.cells_of(option, slabs[i].from, slabs[i].to);
        groups.of[i] = static_cast<std::size_t>(std::find(keys.begin(), keys.end(), of_slab) - keys.begin());
        groups.more[i] = std::min(kerf, cells - 1);
        if (groups.of[i] < keys.size()) continue;
        keys.push_back(of_slab);
        groups.cells.push_back(cells - groups.more[i]);
    }
    return groups;
}
/// A group for each spec that must have one thickness and may choose it.
template <class = when_called>
[[nodiscard]] thickness_groups groups_of_one_thickness(const cutting_problem& fine,
                                                       const std::vector<grid_slab>& slabs) {
    return groups_by(fine, slabs, [&](std::size_t i) {
        const std::size_t spec = slabs[i].option;
        return has_choice_of_one_thickness(fine.specs()[spec]) ? static_cast<std::int64_t>(spec) : std::int64_t{-1};
    });
}

/// The slabs laid out anew, one behind the other, those of groups as thick as these say; loose meat takes up the difference.
template <class = when_called>
[[nodiscard]] std::vector<grid_slab> laid_out_with(const cutting_problem& fine, std::vector<grid_slab> slabs,
                                                   const std::vector<std::size_t>& cells) {
    std::size_t at = fine.start();
    for (std::size_t i = 0; i < slabs.size(); ++i) {
        grid_slab& s = slabs[i];
        const std::size_t thick = cells[i] != 0 ? cells[i] : s.to - s.from;
        const std::size_t to = s.kind == slab_kind::portions ? at + thick : std::max(at, s.to);
        s.from = at;
        s.to = at = i + 1 == slabs.size() ? fine.cells() : std::clamp(to, at, fine.cells());
    }
    return slabs;
}

/// Closes in on the best thicknesses of groups: `better(cells)` plans with them, and says whether that is the best so far.
/// From half a cell of the coarse grid down to a position, one group after the other, as long as that gains something; 400
/// looks at most, and go_on() is asked before each but the first. Without any group there is one look.
template <class Better, class GoOn = always>
void move_thicknesses(std::vector<std::size_t> cells, std::size_t parts, const Better& better, const GoOn& go_on = {}) {
    std::size_t looks = 400;
    if (!better(cells)) return;
    for (std::size_t step = std::max(parts / 2, std::size_t{1}); step > 0; step /= 2)
        for (bool gains = !cells.empty(); gains;) {
            gains = false;
            for (std::size_t g = 0; g < cells.size(); ++g)
                for (const bool thicker : {true, false}) {
                    std::vector<std::size_t> other = cells;
                    if (looks == 0 || !go_on()) return;
                    if (!thicker && other[g] <= step) continue;
                    --looks;
                    other[g] = thicker ? other[g] + step : other[g] - step;
                    if (!better(other)) continue;
                    cells = std::move(other);
                    gains = true;
                    break;
                }
        }
}

/// Moves the cuts of slabs to where they score most, those of groups with one thickness that moves too; none if no cuts
/// within reach keep every limit. `finite` is false where a score was not. go_on() is asked before each round.
template <objective O, class GoOn = always>
[[nodiscard]] std::optional<cut_mover<O>> best_moved(const cutting_problem& fine, const O& objective,
                                                     const std::vector<grid_slab>& slabs,
                                                     const thickness_groups& groups, std::size_t parts, bool& finite,
                                                     const GoOn& go_on = {}) {
    std::optional<cut_mover<O>> best;
    move_thicknesses(
        groups.cells, parts,
        [&](const std::vector<std::size_t>& cells) {
            const std::vector<std::size_t> of_slabs = groups.of_slabs(cells);
            cut_mover<O> mover(fine, objective, cells.empty() ? slabs : laid_out_with(fine, slabs, of_slabs), of_slabs);
            const bool moved = mover.run(parts, go_on) || (cells.empty() && mover.run(4 * parts, go_on));
            finite = finite && mover.finite();
            if (!moved || !finite || (best && !(best->score() < mover.score()))) return false;
            best = std::move(mover);
            return true;
        },
        go_on);
    return best;
}

} // namespace tranche::detail
