// A lane of slabs in little room: runs of ends whose slabs are as long as each other.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include <tranche/optimise/engine/detail/slab_graph.hpp>

namespace tranche::detail {

/// Ends in front of `past` and behind the run before, of which slabs have the same numbers of cells: at most `longest`, and more
/// than `shortest`. No slab ends there if both are the same.
struct slab_run {
    std::uint32_t past = 0, longest = 0, shortest = 0;
};

/// A `slab_lane` that is not narrowed any more, of portions or of loose meat that may start anywhere. How thick slabs may be
/// changes seldom from one end to the next, and twelve bytes are kept for each change. Slabs of loose meat are as long as they like,
/// so of these only the last start counts: it goes along with the end, or stays (`stays`, and `longest` is just behind it).
struct run_lane {
    static constexpr std::uint32_t stays = std::numeric_limits<std::uint32_t>::max();

    std::uint32_t option = 0, stride = 1;
    std::uint32_t first_end = 0, past_end = 0; ///< outside of which no slab ends in front of the sirloin face
    std::uint32_t least_cells = 1;             ///< of slabs that end there
    std::uint32_t first_run = 0, past_run = 0; ///< of the runs of all lanes
    std::uint32_t first_start = 0;             ///< of loose meat
    slab_starts at_end{};                      ///< of slabs up to the sirloin face
    bool loose = false;

    /// Just behind the last start of loose meat that ends in a run.
    [[nodiscard]] static std::size_t past_start(const slab_run& run, std::size_t to) {
        return run.shortest == stays ? run.longest : to - run.shortest;
    }
};

/// All lanes of a graph, and all their runs side by side.
class run_lanes {
public:
    [[nodiscard]] const std::vector<run_lane>& lanes() const { return lanes_; }
    [[nodiscard]] const slab_run* runs(const run_lane& lane) const { return runs_.data() + lane.first_run; }
    [[nodiscard]] slab_starts starts(const run_lane& lane, std::size_t to, std::size_t cells) const {
        if (to == cells) return lane.at_end;
        if (to < lane.first_end || to >= lane.past_end) return {};
        const auto run = std::upper_bound(runs(lane), runs_.data() + lane.past_run, to,
                                          [&](std::size_t end, const slab_run& r) { return end < r.past; });
        const auto at = static_cast<std::uint32_t>(to);
        if (lane.loose) return {lane.first_start, static_cast<std::uint32_t>(run_lane::past_start(*run, to))};
        return {at - run->longest, at - run->shortest};
    }
    [[nodiscard]] std::size_t bytes() const {
        return lanes_.capacity() * sizeof lanes_[0] + runs_.capacity() * sizeof runs_[0];
    }

    /// The lanes of `graph`, whose loose cuts may start anywhere; those without slabs are left out.
    void assign(const slab_graph& graph) {
        lanes_.reserve(graph.lanes.size());
        for (const slab_lane& lane : graph.lanes)
            if (!lane.empty()) add(lane, graph.end, lane.option() < graph.loose_count);
        lanes_.shrink_to_fit();
        runs_.shrink_to_fit();
    }

private:
    static constexpr std::uint32_t undecided_ = run_lane::stays - 1;

    void add(const slab_lane& lane, std::size_t cells, bool loose) {
        const auto small = [](std::size_t n) {
            return static_cast<std::uint32_t>(std::min<std::size_t>(n, run_lane::stays));
        };
        run_lane& of = lanes_.emplace_back();
        of.option = small(lane.option());
        of.stride = small(lane.stride());
        of.first_end = small(lane.first_end());
        of.past_end = std::max(of.first_end, small(lane.past_end()));
        of.least_cells = small(std::max(lane.least_cells(), std::size_t{1}));
        of.first_run = small(runs_.size());
        of.at_end = lane.to(cells);
        of.loose = loose;
        for (std::uint32_t to = of.first_end; to < of.past_end; ++to) {
            const slab_starts s = lane.to(to);
            if (loose)
                add_loose(of, to, s);
            else
                add_end(of, to, s);
        }
        of.past_run = small(runs_.size());
        for (std::size_t r = of.first_run; r < of.past_run; ++r) // a single end says nothing of how it goes on
            if (loose && runs_[r].shortest == undecided_) runs_[r].shortest = run_lane::stays;
    }
    void add_end(const run_lane& of, std::uint32_t to, const slab_starts& s) {
        const slab_run run{to + 1, s.empty() ? 0 : to - s.first, s.empty() ? 0 : to - s.past};
        if (to > of.first_end && runs_.back().longest == run.longest && runs_.back().shortest == run.shortest)
            runs_.back().past = to + 1;
        else
            runs_.push_back(run);
    }
    void add_loose(run_lane& of, std::uint32_t to, const slab_starts& s) {
        if (!s.empty()) of.first_start = s.first;
        const std::uint32_t past = s.empty() ? 0 : s.past;
        if (to > of.first_end) {
            slab_run& last = runs_.back();
            const bool may_stay = last.shortest == undecided_ || last.shortest == run_lane::stays;
            const std::uint32_t before = may_stay ? last.longest : to - 1 - last.shortest;
            const bool still = past == before && may_stay;
            const bool along = past == before + 1 && last.shortest != run_lane::stays;
            if (still || along) {
                last.shortest = still ? run_lane::stays : to - past;
                last.past = to + 1;
                return;
            }
        }
        runs_.push_back({to + 1, past, undecided_});
    }

    std::vector<run_lane> lanes_;
    std::vector<slab_run> runs_;
};

} // namespace tranche::detail
