// Which slabs lie on a way through a loin: from the facing to them, and from them on to the sirloin face.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/optimise/engine/detail/slab_graph.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The positions to which slabs of a graph lead from its start, and those from which they lead to the sirloin face. What links
/// slabs (an order, a common thickness) is not looked at. O(positions × lanes), and O(slabs) for lanes with notches.
template <class = when_called>
class ways_through {
public:
    explicit ways_through(const slab_graph& graph)
        : end_(graph.end), reached_(graph.end + 2), leads_on_(graph.end + 1) {
        std::vector<bool> there(graph.end + 1);
        for (std::size_t to = graph.start; to <= graph.end; ++to) {
            there[to] = to == graph.start;
            for (const slab_lane& lane : graph.lanes) there[to] = there[to] || comes_from_start(lane, to);
            reached_[to + 1] = reached_[to] + (there[to] ? 1U : 0U);
        }
        // From the face towards the rib: starts of slabs that end where it goes on are intervals, of which +1 marks the last
        // start and -1 what lies in front of the first.
        std::vector<std::int32_t> change(graph.end + 2);
        std::int32_t open = 0;
        for (std::size_t at = graph.end + 1; at-- > graph.start;) {
            open += change[at];
            leads_on_[at] = leads_on_[at] || at == graph.end || open > 0;
            if (!leads_on_[at]) continue;
            for (const slab_lane& lane : graph.lanes) {
                const slab_starts s = lane.to(at);
                if (s.empty()) continue;
                if (lane.stride() == 1) {
                    ++change[s.past - 1U];
                    if (s.first > 0) --change[s.first - 1U];
                } else {
                    for (std::size_t from = s.first; from < s.past; from += lane.stride()) leads_on_[from] = true;
                }
            }
        }
    }

    /// Whether a slab of the lane that ends here starts where a way leads to.
    [[nodiscard]] bool comes_from_start(const slab_lane& lane, std::size_t to) const {
        const slab_starts s = lane.to(to);
        if (s.empty()) return false;
        if (lane.stride() == 1) return reached_[s.past] > reached_[s.first];
        for (std::size_t from = s.first; from < s.past; from += lane.stride())
            if (reached_[from + 1] > reached_[from]) return true;
        return false;
    }
    [[nodiscard]] bool leads_on(std::size_t from) const { return leads_on_[from]; }
    /// Whether some slab of the lane lies on a way through.
    [[nodiscard]] bool pass(const slab_lane& lane) const {
        for (std::size_t to = lane.first_end(); to <= end_; ++to)
            if (leads_on(to) && comes_from_start(lane, to)) return true;
        return false;
    }

private:
    std::size_t end_;
    std::vector<std::uint32_t> reached_; ///< how many positions in front of one a way leads to
    std::vector<bool> leads_on_;
};

/// Whether some slab of a lane lies between two slabs of loose meat, where that leads everywhere: what is asked most takes no
/// search. False says nothing.
[[nodiscard]] inline bool passes_beside_loose(const slab_graph& graph, const slab_lane& lane) {
    for (std::size_t to = lane.first_end(); to <= graph.end && graph.loose_everywhere; ++to) {
        if (lane.to(to).empty()) continue;
        if (to == graph.end) return true;
        for (std::size_t o = 0; o < graph.loose_count; ++o)
            if (graph.lanes[o].to(graph.end).holds(to, 1)) return true;
    }
    return false;
}

} // namespace tranche::detail
