// Tilings in the order of their scores, the best first, told apart by whatever is asked for.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <optional>
#include <queue>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/demands/nearest_demand.hpp>
#include <tranche/optimise/engine/detail/lane_filler.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/rest_table.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/engine/detail/slab_memory.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche::detail {

/// What a path is told apart by, besides its position and what demands, an order and a common thickness have to remember of it.
using path_label = std::u32string; // quick to compare and to copy

/// The states that demands and an order of cuts have to remember.
using demand_memory = memory_product<slab_counts, order_states>;

/// The demands whose states a table of some size has room for at all positions, and the others.
struct demands_in_table {
    std::vector<slab_demand> held, left;

    /// In their order as long as they fit, beside the states of an order of cuts.
    template <class = when_called>
    demands_in_table(const cutting_problem& problem, const std::vector<slab_demand>& rows, std::size_t most_entries) {
        const std::size_t orders = order_states_within(problem, most_ordered_entries).size(),
                          room = most_entries / (problem.cells() + 1) / orders;
        for (const slab_demand& row : rows) {
            held.push_back(row);
            if (states_of(counters_of(problem, held)) <= room) continue;
            held.pop_back();
            left.push_back(row);
        }
    }
    template <class = when_called>
    [[nodiscard]] demand_memory memory(const cutting_problem& problem) const {
        return {slab_counts(counters_of(problem, held)), order_states_within(problem, most_ordered_entries)};
    }
};
/// Whether a state of that has what is asked for; caps are kept in every state.
template <class = when_called>
[[nodiscard]] bool has_all(const demand_memory& memory, const std::vector<slab_demand>& rows, std::size_t state) {
    for (std::size_t k = 0; k < rows.size(); ++k)
        if (static_cast<std::int64_t>(memory.major.digit(state / memory.minor.size(), k)) < rows[k].least) return false;
    return true;
}

/// Best-first search (Hart, Nilsson and Raphael 1968, from memory) on a graph of slabs: what a path has reached plus the best that
/// the rest of the loin can give (`rest_table`) is what it may come to, and the path that may come to most goes on. That estimate
/// is exact but for labels, a common thickness and demands that no table has room for, so little is looked at that leads to nothing.
template <objective O>
class best_first {
public:
    using score_type = typename O::score_type;

    best_first(const cutting_problem& problem, const O& objective, const std::vector<slab_demand>& rows,
               std::size_t most_entries)
        : problem_(problem), objective_(objective), rows_(problem, rows, most_entries), memory_(rows_.memory(problem)),
          linked_(problem.varying()), rest_(problem.graph(), objective, memory_,
                                            [&](std::size_t state) { return has_all(memory_, rows_.held, state); }) {
        for (const slab_lane& lane : problem.graph().lanes) ends_.push_back(ends_by_start(lane));
        next_.assign(memory_.size() * problem.option_count(), none);
        for (std::size_t s = 0; s < memory_.size(); ++s)
            for (std::size_t o = 0; o < problem.option_count(); ++o)
                memory_.each_before(s, o, [&](std::size_t before) { next_[before * problem.option_count() + o] = s; });
    }

    /// Calls visit(slabs, score, label) for whole tilings that have what the rows ask for, one for each label, the best of it, in
    /// the order of their scores, until that says false. `step(label, last, slab)` gives the label behind a slab, a `grid_slab`;
    /// `last` is the one in front of it, if any, and the label must say of it what later steps look at. A pass of the clock is as
    /// many paths gone on with as there are positions. False if there was no room for all paths.
    template <class Step, class Visit>
    bool run(const path_label& first, const Step& step, const Visit& visit, search_clock& clock) {
        nodes_.clear();
        std::vector<std::map<node_key, std::size_t>> known(problem_.cells() + 1);
        const auto worse = [&](std::size_t a, std::size_t b) { // the later of equals waits
            return nodes_[a].may != nodes_[b].may ? nodes_[a].may < nodes_[b].may : b < a;
        };
        std::priority_queue<std::size_t, std::vector<std::size_t>, decltype(worse)> open(worse);
        const auto add = [&](std::size_t position, node_key key, const score_type& score, std::size_t from,
                             const grid_slab& slab) {
            const auto& rest = rest_.behind(key.state, position);
            if (!rest) return;
            const auto [at, is_new] = known[position].try_emplace(std::move(key), nodes_.size());
            if (!is_new && !(nodes_[at->second].score < score)) return;
            if (!is_new && nodes_[at->second].done) return; // of floating scores, by rounding
            if (!is_new) nodes_[at->second].done = true;    // a worse way to the same
            at->second = nodes_.size();
            nodes_.push_back({&at->first, position, score, score + rest.score, from, slab});
            open.push(nodes_.size() - 1);
        };
        add(problem_.start(), {0, std::vector<std::size_t>(linked_.size() + rows_.left.size()), first}, {}, none, {});
        for (std::size_t expanded = 0; !open.empty(); ++expanded) {
            const std::size_t i = open.top();
            open.pop();
            if (nodes_[i].done) continue;
            nodes_[i].done = true;
            if (expanded % (problem_.cells() + 1) == 0 && !clock.go_on()) return true;
            if (nodes_.size() > most_nodes) return false;
            const std::size_t from = nodes_[i].position;
            if (from == problem_.cells()) {
                if (has_rest(nodes_[i].key->cells) && !visit(slabs_to(i), nodes_[i].score, nodes_[i].key->label))
                    return true;
                continue;
            }
            const node_key& key = *nodes_[i].key;
            const std::optional<grid_slab> last = nodes_[i].from == none ? std::nullopt : std::optional(nodes_[i].slab);
            for (std::size_t k = 0; k < ends_.size(); ++k) {
                const slab_lane& lane = problem_.graph().lanes[k];
                const std::size_t o = lane.option(), state = next_[key.state * problem_.option_count() + o];
                if (state == none) continue;
                for (std::size_t to = ends_[k][from].first; to != none; to = next_end(ends_[k][from], to)) {
                    if (!lane.to(to).holds(from, lane.stride())) continue;
                    const score_type score = nodes_[i].score + slab_score(objective_, o, from, to);
                    if constexpr (!always_finite<score_type>)
                        if (forbids(score)) continue;
                    node_key behind{state, key.cells, {}};
                    if (!keep_thickness(behind.cells, o, from, to) || !count(behind.cells, o)) continue;
                    const grid_slab slab = grid_slab_of(problem_, o, from, to);
                    behind.label = step(key.label, last, slab);
                    add(to, std::move(behind), score, i, slab);
                }
            }
        }
        return true;
    }

private:
    static constexpr std::size_t none = std::numeric_limits<std::size_t>::max();
    static constexpr std::size_t most_nodes = std::size_t{1} << 22U; // some 200 bytes each

    struct node_key {
        std::size_t state = 0; ///< of the memory
        std::vector<std::size_t>
            cells; ///< by linked option: how thick its slabs are, 0 before the first; then the slabs of
                   ///< each demand that the table has no room for
        path_label label;
        friend bool operator<(const node_key& a, const node_key& b) {
            if (a.state != b.state) return a.state < b.state;
            return a.cells != b.cells ? a.cells < b.cells : a.label < b.label;
        }
    };
    struct node {
        const node_key* key;
        std::size_t position;
        score_type score, may; ///< reached; and what it may come to
        std::size_t from;      ///< the node in front of the last slab
        grid_slab slab;
        bool done = false;
    };

    [[nodiscard]] bool keep_thickness(std::vector<std::size_t>& cells, std::size_t option, std::size_t from,
                                      std::size_t to) const {
        const auto linked = std::find(linked_.begin(), linked_.end(), option);
        if (linked == linked_.end()) return true;
        std::size_t& thick = cells[static_cast<std::size_t>(linked - linked_.begin())];
        const std::size_t now = problem_.cells_of(option, from, to);
        if (thick == 0) thick = now;
        return thick == now;
    }
    /// One more slab of an option among demands beside the table; false where that is one too many.
    [[nodiscard]] bool count(std::vector<std::size_t>& cells, std::size_t option) const {
        for (std::size_t k = 0; k < rows_.left.size(); ++k) {
            const slab_demand& row = rows_.left[k];
            auto& slabs = cells[linked_.size() + k];
            if (row.option != option || (!row.capped() && static_cast<std::int64_t>(slabs) >= row.least)) continue;
            if (static_cast<std::int64_t>(++slabs) > row.most) return false;
        }
        return true;
    }
    [[nodiscard]] bool has_rest(const std::vector<std::size_t>& cells) const {
        for (std::size_t k = 0; k < rows_.left.size(); ++k)
            if (static_cast<std::int64_t>(cells[linked_.size() + k]) < rows_.left[k].least) return false;
        return true;
    }

    /// The ends [first, past) in front of the sirloin face among which those of slabs from a start are; then the face.
    struct ends_from {
        std::size_t first, past;
    };
    [[nodiscard]] std::size_t next_end(const ends_from& ends, std::size_t to) const {
        if (to == problem_.cells()) return none;
        return to + 1 < ends.past ? to + 1 : problem_.cells();
    }
    [[nodiscard]] std::vector<ends_from> ends_by_start(const slab_lane& lane) const {
        const std::size_t cells = problem_.cells();
        std::vector<ends_from> ends(cells + 1, {cells, 0});
        // Where places of cuts come in, a limit may fall: what is between is then looked at too.
        std::size_t seen = 0;
        for (std::size_t to = lane.first_end(); to < lane.past_end(); ++to)
            for (; seen < lane.to(to).past; ++seen) ends[seen].first = to;
        seen = cells + 1;
        for (std::size_t to = lane.past_end(); to-- > lane.first_end();)
            for (; !lane.to(to).empty() && seen > lane.to(to).first; --seen) ends[seen - 1].past = to + 1;
        for (ends_from& e : ends)
            if (e.past <= e.first) e.first = cells;
        return ends;
    }

    [[nodiscard]] std::vector<grid_slab> slabs_to(std::size_t i) const {
        std::vector<grid_slab> slabs;
        for (; nodes_[i].from != none; i = nodes_[i].from) slabs.push_back(nodes_[i].slab);
        std::reverse(slabs.begin(), slabs.end());
        return slabs;
    }

    const cutting_problem& problem_;
    const O& objective_;
    demands_in_table rows_;
    demand_memory memory_;
    std::vector<std::size_t> linked_; ///< options whose slabs must have one thickness
    rest_table<O, demand_memory> rest_;
    std::vector<std::vector<ends_from>> ends_; ///< by lane and start
    std::vector<std::size_t> next_;            ///< by state and option: the state behind a slab
    std::vector<node> nodes_;
};

} // namespace tranche::detail
