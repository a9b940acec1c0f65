// The narrowest window of weights within which a loin can be cut into just so many portions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/detail/demands/nearest_demand.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/engine/detail/slab_graph.hpp>
#include <tranche/optimise/engine/detail/slab_memory.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The lightest and the heaviest portion of a plan, in micrograms.
struct even_weights {
    std::int64_t lightest = 0, heaviest = 0;
    [[nodiscard]] std::int64_t spread() const { return heaviest - lightest; }

    friend bool operator==(const even_weights&, const even_weights&) = default;
};

/// Windows that together hold each plan within `node` whose weights spread no further than `within`, and neither of which holds
/// one with portions of both weights that a plan `has`: a rule to split by for `branch`. None where those lie near enough.
[[nodiscard]] inline std::vector<even_weights> split_weights(const even_weights& node, const even_weights& has,
                                                             std::int64_t within) {
    if (has.spread() <= within) return {};
    const std::int64_t least = has.lightest + 1 + (has.spread() - within - 1) / 2;
    return {{least, node.heaviest}, {node.lightest, std::min(node.heaviest, least - 1 + within)}};
}

/// The narrowest window of weights of all tilings, of windows equally narrow the one of the heaviest portions; none if there
/// is no tiling. `lightest(h)` gives L(h), the largest lightest portion among tilings without one above h, if there are any;
/// `heaviest(l)` gives H(l), the smallest heaviest among those without one below l, of which there are some.
///
/// L and H never fall. From the top down, a window [L(h), h] is shrunk to [L(h), H(L(h))]; the next h lies below that, and so
/// far below that a narrower window is possible at all.
template <class Lightest, class Heaviest>
[[nodiscard]] std::optional<even_weights> narrowest_window(const Lightest& lightest, const Heaviest& heaviest) {
    std::optional<even_weights> best;
    std::int64_t most = std::numeric_limits<std::int64_t>::max() / 2;
    while (true) {
        const std::optional<std::int64_t> low = lightest(most);
        if (!low) return best;
        if (best && most - *low >= best->spread()) {
            most = *low + best->spread() - 1;
            continue;
        }
        best = even_weights{*low, heaviest(*low)};
        if (best->spread() == 0) return best;
        most = best->heaviest - 1;
    }
}

/// Costs of slabs in `narrowest_window`: of what is not allowed, and less than any other.
struct window_cost {
    static constexpr std::int64_t never = std::numeric_limits<std::int64_t>::max();
    static constexpr std::int64_t none = std::numeric_limits<std::int64_t>::min();
};

/// The same by `worst(cost)`: the least, over all tilings, of the largest cost of a slab of portions, which is asked of its
/// `lightest` and `heaviest`; `never` if every tiling has a slab that costs `never`.
template <class Worst>
[[nodiscard]] std::optional<even_weights> narrowest_window(const Worst& worst) {
    return narrowest_window(
        [&](std::int64_t most) -> std::optional<std::int64_t> {
            const std::int64_t cost =
                worst([&](const auto& s) { return s.heaviest > most ? window_cost::never : -s.lightest; });
            return cost == window_cost::never ? std::optional<std::int64_t>{} : -cost;
        },
        [&](std::int64_t lightest) {
            return worst([&](const auto& s) { return s.lightest < lightest ? window_cost::never : s.heaviest; });
        });
}

/// Which numbers of portions can be cut up to each position from slabs of a graph: a bit a number, for each state of a memory:
/// an order of cuts, counts of slabs. A count that is reached or not needs no best slab, so all of them are one word (or some), and what the starts of a
/// slab reach is one word too, kept as its interval moves on. O(positions × lanes × states).
template <class Memory>
class counts_reached {
public:
    counts_reached(const cutting_problem& problem, std::size_t portions, const Memory& memory)
        : problem_(problem), portions_(portions), states_(memory.size()), words_(portions / bits + 1),
          row_(words_ * states_), reached_((problem.cells() + 1) * row_) {
        for (std::size_t o = 0; o < problem.option_count(); ++o)
            for (std::size_t state = 0; state < states_; ++state) behind_.push_back(memory.behind(state, o));
    }

    /// Whether the whole loin can be cut into just so many, in a state that is `enough`.
    template <class Enough>
    [[nodiscard]] bool possible(const slab_graph& graph, const Enough& enough) {
        std::fill(reached_.begin(), reached_.end(), word{0});
        reached_[graph.start * row_] = 1;
        starts_.resize(graph.lanes.size());
        for (std::size_t k = 0; k < graph.lanes.size(); ++k) starts_[k].restart(graph.start, row_, reached_.size());
        for (std::size_t to = graph.start + 1; to <= graph.end; ++to)
            for (std::size_t k = 0; k < graph.lanes.size(); ++k) {
                const slab_lane& lane = graph.lanes[k];
                if (!lane.to(to).empty()) shift_into(to, lane.option(), at_starts(graph, lane, starts_[k], to));
            }
        const word* const whole = &reached_[graph.end * row_];
        for (std::size_t state = 0; state < states_; ++state)
            if ((whole[state * words_ + portions_ / bits] >> (portions_ % bits) & 1U) != 0 && enough(state))
                return true;
        return false;
    }

private:
    using word = std::uint64_t;
    static constexpr std::size_t bits = 64;

    /// What the starts of a lane reach: of those in front of `split` the rest from each on, of those behind it all so far.
    struct interval {
        std::vector<word> rest, all;
        std::size_t split = 0, next = 0;
        void restart(std::size_t start, std::size_t row, std::size_t room) {
            rest.resize(room);
            all.assign(row, 0);
            split = next = start;
        }
    };

    void add(std::vector<word>& sum, std::size_t position) const {
        for (std::size_t w = 0; w < row_; ++w) sum[w] |= reached_[position * row_ + w];
    }

    [[nodiscard]] const std::vector<word>& at_starts(const slab_graph& graph, const slab_lane& lane, interval& in,
                                                     std::size_t to) {
        const slab_starts s = lane.to(to);
        const bool loose = lane.option() < graph.loose_count;
        if (loose) { // one interval that only grows, but for the remnant and behind a pinned cut
            if (s.past < in.next || s.first > in.split) in.restart(s.first, row_, 0);
            for (; in.next < s.past; ++in.next) add(in.all, in.next);
            return in.all;
        }
        if (to == graph.end || lane.stride() > 1) {
            sum_.assign(row_, 0);
            for (std::size_t at = s.first; at < s.past; at += lane.stride()) add(sum_, at);
            return sum_;
        }
        if (s.first >= in.split) {
            in.all.assign(row_, 0);
            in.split = in.next = s.past;
            sum_.assign(row_, 0);
            for (std::size_t at = s.past; at-- > s.first;) {
                add(sum_, at);
                std::copy(sum_.begin(), sum_.end(), in.rest.begin() + static_cast<std::ptrdiff_t>(at * row_));
            }
        }
        for (; in.next < s.past; ++in.next) add(in.all, in.next);
        for (std::size_t w = 0; w < row_; ++w) sum_[w] = in.all[w] | in.rest[s.first * row_ + w];
        return sum_;
    }

    /// So many portions more; counts beyond those asked for are of no use.
    void shift_into(std::size_t to, std::size_t option, const std::vector<word>& from) {
        const auto pieces = static_cast<std::size_t>(problem_.pieces(option));
        const std::size_t over = pieces / bits, by = pieces % bits;
        for (std::size_t state = 0; state < states_; ++state) {
            const std::size_t behind = behind_[option * states_ + state];
            if (behind == order_states::none) continue;
            word* const into = &reached_[to * row_ + behind * words_];
            const word* const of = &from[state * words_];
            for (std::size_t w = over; w < words_; ++w) {
                into[w] |= of[w - over] << by;
                if (by > 0 && w > over) into[w] |= of[w - over - 1] >> (bits - by);
            }
        }
    }

    const cutting_problem& problem_;
    std::size_t portions_, states_, words_, row_;
    std::vector<std::size_t> behind_; ///< by option and state
    std::vector<word> reached_, sum_ = std::vector<word>(row_);
    std::vector<interval> starts_;
};

/// Finds the narrowest window of weights within which a loin can be cut into just so many portions, in the order that cuts
/// may have to lie in, with what rows of demands ask for. One thickness for a cut is not looked at.
template <class = when_called>
class even_search {
public:
    /// A clock, if there is one, is asked before each search.
    even_search(const cutting_problem& problem, std::int64_t portions, const std::vector<slab_demand>& rows = {},
                search_clock* clock = nullptr)
        : problem_(problem), clock_(clock),
          within_(problem.graph()), memory_{slab_counts(counters_of(problem, rows)),
                                            order_states_within(problem, most_ordered_entries)},
          reach_(problem, static_cast<std::size_t>(portions), memory_) {
        for (std::size_t state = 0; state < memory_.size(); ++state)
            enough_.push_back(has_all(memory_.major, rows, state / memory_.minor.size()));
    }

    /// None if there is no such tiling; of windows that hold these weights too, if there are any. Where the clock ends the
    /// search, the narrowest one so far, or none.
    [[nodiscard]] std::optional<even_weights> narrowest(const even_weights& held = {window_cost::never,
                                                                                    window_cost::none}) {
        std::optional<even_weights> known;
        try {
            return narrowest_of_all(held, known);
        } catch (const search_is_over&) {
            return known;
        }
    }

    /// States told apart by all searches so far.
    [[nodiscard]] std::size_t states() const { return searches_ * memory_.size(); }

private:
    struct search_is_over {};

    [[nodiscard]] std::optional<even_weights> narrowest_of_all(const even_weights& held,
                                                               std::optional<even_weights>& known) {
        std::int64_t low = heaviest_of_all(); // L(h) is no more than this
        return narrowest_window(
            [&](std::int64_t most) -> std::optional<std::int64_t> {
                if (most < held.heaviest || !look({0, most}).possible) return std::nullopt;
                low = last_possible(std::min(low, most), -1, [&](std::int64_t l) { return look({l, most}); });
                return std::min(low, held.lightest);
            },
            [&](std::int64_t lightest) {
                const auto seen = [&](std::int64_t h) { return look({lightest, h}); };
                const even_weights window{lightest, std::max(last_possible(lightest, 1, seen), held.heaviest)};
                if (!known || window.spread() < known->spread()) known = window;
                return window.heaviest;
            });
    }

    /// What a window allows, and the weights of portions next to its limits: nothing changes before a limit comes to those.
    struct sight {
        bool possible = false;
        even_weights inside, outside;
    };

    /// The limit nearest to `from`, in a direction of 1 or -1, that makes a tiling possible, if all behind it do: strides that
    /// grow, then halves, both from weight to weight.
    template <class Look>
    [[nodiscard]] static std::int64_t last_possible(std::int64_t from, std::int64_t direction, const Look& look) {
        const auto of = [&](const even_weights& w) { return direction < 0 ? w.lightest : w.heaviest; };
        sight seen = look(from);
        if (seen.possible) return from;
        std::int64_t no = of(seen.outside) - direction, yes = no;
        for (std::int64_t stride = first_stride; yes == no; stride *= 8) {
            seen = look(no + direction * stride);
            (seen.possible ? yes : no) = seen.possible ? of(seen.inside) : of(seen.outside) - direction;
            if (!seen.possible) yes = no;
        }
        while (yes != no + direction) {
            seen = look(no + (yes - no) / 2);
            (seen.possible ? yes : no) = seen.possible ? of(seen.inside) : of(seen.outside) - direction;
        }
        return yes;
    }

    [[nodiscard]] sight look(const even_weights& window) {
        if (clock_ != nullptr && !clock_->go_on(memory_.size())) throw search_is_over{};
        ++searches_;
        sight seen{false, {window_cost::never, window_cost::none}, {window_cost::none, window_cost::never}};
        for (std::size_t o = problem_.loose_count(); o < problem_.option_count(); ++o) {
            const std::int64_t pieces = problem_.pieces(o);
            const slab_lane& all = problem_.graph().lanes[o];
            within_.lanes[o] = all.of_weights(problem_.front(o).data(), problem_.back(o).data(),
                                              of_pieces(window.lightest, pieces), of_pieces(window.heaviest, pieces));
            note_weights(all, within_.lanes[o], pieces, window, seen);
        }
        seen.possible = reach_.possible(within_, [&](std::size_t state) { return enough_[state]; });
        return seen;
    }
    void note_weights(const slab_lane& all, const slab_lane& kept, std::int64_t pieces, const even_weights& window,
                      sight& seen) const {
        even_weights inside{window_cost::never, window_cost::none}, outside{window_cost::none, window_cost::never};
        const std::int64_t *const front = problem_.front(all.option()).data(), *const back =
                                                                                   problem_.back(all.option()).data();
        if (all.stride() > 1) { // next to a start may be none
            seen.inside = {std::min(seen.inside.lightest, window.lightest),
                           std::max(seen.inside.heaviest, window.heaviest)};
            seen.outside = {std::max(seen.outside.lightest, window.lightest - 1),
                            std::min(seen.outside.heaviest, window.heaviest + 1)};
            return;
        }
        for (std::size_t to = problem_.start() + 1; to <= problem_.cells(); ++to) {
            const slab_starts a = all.to(to), k = kept.to(to);
            if (a.empty()) continue;
            if (!k.empty())
                inside = {std::min(inside.lightest, back[to] - front[k.past - 1]),
                          std::max(inside.heaviest, back[to] - front[k.first])};
            if (k.past < a.past) outside.lightest = std::max(outside.lightest, back[to] - front[k.past]);
            if (k.first > a.first) outside.heaviest = std::min(outside.heaviest, back[to] - front[k.first - 1]);
        }
        const auto up = [&](std::int64_t weight) { return weight / pieces + (weight % pieces > 0 ? 1 : 0); };
        if (inside.lightest != window_cost::never)
            seen.inside = {std::min(seen.inside.lightest, inside.lightest / pieces),
                           std::max(seen.inside.heaviest, up(inside.heaviest))};
        if (outside.lightest != window_cost::none)
            seen.outside.lightest = std::max(seen.outside.lightest, outside.lightest / pieces);
        if (outside.heaviest != window_cost::never)
            seen.outside.heaviest = std::min(seen.outside.heaviest, up(outside.heaviest));
    }
    [[nodiscard]] std::int64_t heaviest_of_all() const { return problem_.meat().total().count; }

    static constexpr std::int64_t first_stride = 1000;

    const cutting_problem& problem_;
    search_clock* clock_;
    slab_graph within_; ///< the slabs of a window
    std::size_t searches_ = 0;
    memory_product<slab_counts, order_states> memory_;
    std::vector<bool> enough_; ///< by state: whether the rows are met
    counts_reached<memory_product<slab_counts, order_states>> reach_;
};

} // namespace tranche::detail
