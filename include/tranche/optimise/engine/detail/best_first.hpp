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
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// What a path is told apart by, besides its position and what demands, an order and a common thickness have to remember of it.
using path_label = std::u32string; // quick to compare and to copy

/// The states that demands and an order of cuts have to remember. Throws `invalid_input` where tables of `most_entries` do not hold
/// them at all positions.
using demand_memory = memory_product<slab_counts, order_states>;
template <class = when_called>
[[nodiscard]] demand_memory demand_memory_within(const cutting_problem& problem, const std::vector<slab_demand>& rows,
                                                 std::size_t most_entries) {
    std::vector<slab_counter> counters = counters_of(problem, rows);
    const std::size_t counts = states_of(counters), room = most_entries / (problem.cells() + 1);
    if (counts > room)
        throw invalid_input("demands", std::to_string(counts) + " states",
                            "at most " + std::to_string(room) + " where plans are told apart by more than their score");
    return {slab_counts(std::move(counters)), order_states_within(problem, most_entries, counts)};
}
/// Whether a state of that has what is asked for; caps are kept in every state.
template <class = when_called>
[[nodiscard]] bool has_all(const demand_memory& memory, const std::vector<slab_demand>& rows, std::size_t state) {
    for (std::size_t k = 0; k < rows.size(); ++k)
        if (static_cast<std::int64_t>(memory.major.digit(state / memory.minor.size(), k)) < rows[k].least) return false;
    return true;
}

/// Best-first search (Hart, Nilsson and Raphael 1968, from memory) on a graph of slabs: what a path has reached plus the best that
/// the rest of the loin can give (`rest_table`) is what it may come to, and the path that may come to most goes on. That estimate
/// is exact but for labels and a common thickness, so little is looked at that leads to nothing.
template <objective O>
class best_first {
public:
    using score_type = typename O::score_type;

    best_first(const cutting_problem& problem, const O& objective, const std::vector<slab_demand>& rows,
               std::size_t most_entries)
        : problem_(problem), objective_(objective), memory_(demand_memory_within(problem, rows, most_entries)),
          linked_(problem.varying()),
          rest_(problem.graph(), objective, memory_, [&](std::size_t state) { return has_all(memory_, rows, state); }) {
        next_.assign(memory_.size() * problem.option_count(), none);
        for (std::size_t s = 0; s < memory_.size(); ++s)
            for (std::size_t o = 0; o < problem.option_count(); ++o)
                memory_.each_before(s, o, [&](std::size_t before) { next_[before * problem.option_count() + o] = s; });
    }

    /// Calls visit(slabs, score, label) for whole tilings that have what the rows ask for, one for each label, the best of it, in
    /// the order of their scores, until that says false. `step(label, last, slab)` gives the label behind a slab, a `grid_slab`;
    /// `last` is the one in front of it, if any, and the label must say of it what later steps look at. A pass of the clock is as
    /// many paths gone on with as there are positions.
    template <class Step, class Visit>
    void run(const path_label& first, const Step& step, const Visit& visit, search_clock& clock) {
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
        add(problem_.start(), {0, std::vector<std::size_t>(linked_.size()), first}, {}, none, {});
        for (std::size_t expanded = 0; !open.empty(); ++expanded) {
            const std::size_t i = open.top();
            open.pop();
            if (nodes_[i].done) continue;
            nodes_[i].done = true;
            if (expanded % (problem_.cells() + 1) == 0 && !clock.go_on()) return;
            const std::size_t from = nodes_[i].position;
            if (from == problem_.cells()) {
                if (!visit(slabs_to(i), nodes_[i].score, nodes_[i].key->label)) return;
                continue;
            }
            const node_key& key = *nodes_[i].key;
            const std::optional<grid_slab> last = nodes_[i].from == none ? std::nullopt : std::optional(nodes_[i].slab);
            for (const slab_lane& lane : problem_.graph().lanes) {
                const std::size_t o = lane.option(), state = next_[key.state * problem_.option_count() + o];
                if (state == none) continue;
                for (std::size_t to = from + 1; to <= problem_.cells(); ++to) {
                    if (!lane.to(to).holds(from, lane.stride())) continue;
                    const score_type score = nodes_[i].score + slab_score(objective_, o, from, to);
                    if constexpr (!always_finite<score_type>)
                        if (forbids(score)) continue;
                    node_key behind{state, key.cells, {}};
                    if (!keep_thickness(behind.cells, o, from, to)) continue;
                    const grid_slab slab = grid_slab_of(problem_, o, from, to);
                    behind.label = step(key.label, last, slab);
                    add(to, std::move(behind), score, i, slab);
                }
            }
        }
    }

private:
    static constexpr std::size_t none = std::numeric_limits<std::size_t>::max();

    struct node_key {
        std::size_t state = 0;          ///< of the memory
        std::vector<std::size_t> cells; ///< by linked option: how thick its slabs are, 0 before the first
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
    [[nodiscard]] std::vector<grid_slab> slabs_to(std::size_t i) const {
        std::vector<grid_slab> slabs;
        for (; nodes_[i].from != none; i = nodes_[i].from) slabs.push_back(nodes_[i].slab);
        std::reverse(slabs.begin(), slabs.end());
        return slabs;
    }

    const cutting_problem& problem_;
    const O& objective_;
    demand_memory memory_;
    std::vector<std::size_t> linked_; ///< options whose slabs must have one thickness
    rest_table<O, demand_memory> rest_;
    std::vector<std::size_t> next_; ///< by state and option: the state behind a slab
    std::vector<node> nodes_;
};

} // namespace tranche::detail
