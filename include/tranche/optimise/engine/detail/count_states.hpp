// The engine with a memory: the best tiling for every state of some counters, by dynamic programming over both.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/start_queue.hpp>
#include <tranche/optimise/engine/segment.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// Counts something about a plan from 0 to `top`: each slab of option o adds steps[o]. What would go beyond the top is not
/// allowed, unless the counter saturates: then the top stands for that many or more. One that saturates steps by 0 or 1.
struct slab_counter {
    std::size_t top = 0;
    bool saturates = false;
    std::vector<std::size_t> steps; ///< by option; zero for loose meat
};

/// Counts portions of all specs up to `most`.
template <class = when_called>
[[nodiscard]] slab_counter all_portions(const cutting_problem& problem, std::size_t most) {
    slab_counter all{.top = most, .saturates = false, .steps = {}};
    for (std::size_t o = 0; o < problem.option_count(); ++o)
        all.steps.push_back(static_cast<std::size_t>(problem.pieces(o)));
    return all;
}

/// The number of states of these counters, or the largest number there is.
template <class = when_called>
[[nodiscard]] std::size_t states_of(const std::vector<slab_counter>& counters) {
    std::size_t product = 1;
    for (const slab_counter& c : counters) {
        if (product > std::numeric_limits<std::size_t>::max() / (c.top + 1))
            return std::numeric_limits<std::size_t>::max();
        product *= c.top + 1;
    }
    return product;
}

/// The best way to reach a position in a state, if there is one.
template <class Score>
struct reached {
    static constexpr std::uint32_t never = std::numeric_limits<std::uint32_t>::max();
    static constexpr std::uint32_t origin = never - 1; ///< the source of where the knife starts

    Score score{};
    std::uint32_t from = 0, source = never; ///< the last slab: where it starts, and which source it is of

    [[nodiscard]] explicit operator bool() const { return source != never; }
    void offer(const Score& value, std::size_t start, std::size_t with) {
        if constexpr (!always_finite<Score>)
            if (forbids(value)) return; // not a way at all
        if (!*this || score < value)
            *this = {value, static_cast<std::uint32_t>(start), static_cast<std::uint32_t>(with)};
    }
};

template <class = when_called>
[[nodiscard]] stretch stretch_of(const cutting_problem& problem, std::size_t option, std::size_t from, std::size_t to) {
    const bool portions = problem.is_portion(option);
    return {from, to, portions ? slab_kind::portions : slab_kind::loose,
            portions ? option - problem.loose_count() : option};
}

/// Fills a layer: the best ways to reach all positions in one state, from layers that are filled already and from itself.
template <objective O>
class layer_filler {
public:
    using score_type = typename O::score_type;
    using entry = reached<score_type>;

    /// Slabs of an option that lead from a layer, perhaps the one being filled, into that one. Entries are marked `source`.
    struct way {
        std::size_t option = 0;
        const entry* from = nullptr;
        std::size_t source = 0;
    };

    /// Portions thinner than `thinnest` are left out, whatever their specs allow.
    layer_filler(const cutting_problem& problem, const O& objective, length thinnest = {})
        : problem_(problem), objective_(objective), cells_in_block_(problem.cells()) {
        const length step = problem.meat().step();
        for (std::size_t o = 0; o < problem.option_count(); ++o) {
            const option_window& w = problem.window(o);
            limits_.emplace_back(problem, o);
            past_to_end_.push_back(std::min(w.last_to_end + 1, w.past_from));
            cells_in_block_ = std::min(cells_in_block_, w.least_cells);
            if (!problem.is_portion(o) || !(thinnest > length{})) continue;
            const double cells = least_steps(thinnest + problem.kerf(o), step);
            if (const auto least = static_cast<std::size_t>(cells); least > w.least_cells)
                limits_[o].least_cells += (least - w.least_cells + w.stride - 1) / w.stride * w.stride;
            const double last = most_steps(problem.meat().extent() - thinnest, step);
            past_to_end_[o] = last < 0.0 ? 0 : std::min(past_to_end_[o], static_cast<std::size_t>(last) + 1);
        }
    }

    /// Fills `into`, which holds an entry for each position; like `segment`, a block of positions at a time. On ties the
    /// earlier way wins, and of its slabs the one that starts earlier.
    /// O(positions × ways) for separable objectives, times the window for others. Positions outside [range.first, range.past)
    /// are left alone; in front of it no way has an entry.
    void fill(entry* into, const std::vector<way>& ways,
              block range = {0, std::numeric_limits<std::size_t>::max()}) const {
        const std::size_t start = problem_.start(), end = problem_.cells(), stop = std::min(end, range.past);
        std::vector<progress> all;
        for (const way& w : ways) {
            const bool queued = separable_objective<O> && problem_.is_portion(w.option);
            const std::size_t stride = problem_.window(w.option).stride;
            const std::size_t starts = queued ? limits_[w.option].most_starts() / stride + 1 : 1;
            progress p{w, limits_[w.option], stride, {}, {}};
            for (std::size_t first = 0; first < (queued ? stride : 1); ++first)
                p.classes.push_back({start_queue<score_type>(starts), queued ? first : start});
            all.push_back(std::move(p));
        }
        for (std::size_t first = std::max(start, range.first) + 1, past = 0; first < stop; first = past) {
            past = std::min(first + cells_in_block_, stop);
            for (progress& p : all)
                if (problem_.is_portion(p.by.option))
                    for (std::size_t to = std::max(first, p.limits.least_cells); to < std::min(past, p.limits.past_to);
                         ++to)
                        offer_portions(into[to], p, to, p.limits.first(to), p.limits.past(to),
                                       (to - p.limits.least_cells) % p.stride);
                else
                    for (std::size_t to = first; to < past; ++to) offer_loose(into[to], p, to, p.limits.least_cells);
        }
        if (start == end || range.past <= end) return;
        for (progress& p : all) {
            const option_window& w = problem_.window(p.by.option);
            if (!problem_.is_portion(p.by.option)) {
                const std::size_t least = end - std::min(w.last_to_end, end - 1);
                if (least > w.least_cells) { // starts that leave too small a remnant have had their turn
                    p.best = {};
                    p.classes.front().next = start;
                }
                offer_loose(into[end], p, end, least);
            } else if (end < w.past_to && w.first_to_end <= w.last_to_end) {
                offer_each(into[end], p, end, std::max(p.limits.start, w.first_to_end), past_to_end_[p.by.option],
                           w.last_to_end % p.stride);
            }
        }
    }

private:
    struct progress {
        way by;
        raw_limits limits;
        std::size_t stride;
        struct starts {
            start_queue<score_type> queue;
            std::size_t next; ///< the first start that has not been looked at
        };
        std::vector<starts> classes; ///< one a residue class of notches, otherwise one
        entry best;                  ///< of loose meat: the best start so far
    };

    /// Loose meat that ends at `to`; behind the facing it may be of any thickness.
    void offer_loose(entry& into, progress& p, std::size_t to, std::size_t least) const {
        const std::size_t start = problem_.start(), option = p.by.option;
        if constexpr (separable_objective<O>) {
            std::size_t& next = p.classes.front().next;
            for (; next == start ? next < to : next + least <= to; ++next)
                if (const entry& from = p.by.from[next])
                    p.best.offer(from.score + objective_.opening(option, next), next, p.by.source);
            if (p.best) into.offer(p.best.score + objective_.closing(option, to), p.best.from, p.by.source);
        } else {
            for (std::size_t at = start; at == start ? at < to : at + least <= to; ++at)
                if (const entry& from = p.by.from[at])
                    into.offer(from.score + objective_.slab(option, at, to), at, p.by.source);
        }
    }

    [[nodiscard]] static std::size_t at_or_behind(std::size_t position, std::size_t in_class, std::size_t stride) {
        return position + (in_class + stride - position % stride) % stride;
    }
    /// Slabs [at, to) with first <= at < past of a residue class, as far as their weight is allowed.
    void offer_portions(entry& into, progress& p, std::size_t to, std::size_t first, std::size_t past,
                        std::size_t in_class) const {
        if constexpr (separable_objective<O>) {
            const std::int64_t reach = p.limits.back[to];
            const std::int64_t heaviest = reach - p.limits.most_weight, lightest = reach - p.limits.least_weight;
            const std::size_t option = p.by.option;
            auto& [queue, next] = p.classes[in_class];
            while (!queue.empty() && (queue.start() < first || p.limits.front[queue.start()] < heaviest))
                queue.expire();
            if (next < first) next = at_or_behind(first, in_class, p.stride);
            for (; next < past && p.limits.front[next] <= lightest; next += p.stride)
                if (const entry& from = p.by.from[next]; from && p.limits.front[next] >= heaviest)
                    queue.enter(next, from.score + objective_.opening(option, next));
            if (!queue.empty()) into.offer(queue.key() + objective_.closing(option, to), queue.start(), p.by.source);
        } else {
            offer_each(into, p, to, first, past, in_class);
        }
    }
    /// The same without a queue.
    void offer_each(entry& into, const progress& p, std::size_t to, std::size_t first, std::size_t past,
                    std::size_t in_class) const {
        const std::int64_t reach = p.limits.back[to];
        const std::int64_t heaviest = reach - p.limits.most_weight, lightest = reach - p.limits.least_weight;
        for (std::size_t at = at_or_behind(first, in_class, p.stride); at < past; at += p.stride)
            if (const entry& from = p.by.from[at];
                from && heaviest <= p.limits.front[at] && p.limits.front[at] <= lightest)
                into.offer(from.score + slab_score(objective_, p.by.option, at, to), at, p.by.source);
    }

    const cutting_problem& problem_;
    const O& objective_;
    std::size_t cells_in_block_;
    std::vector<raw_limits> limits_;       ///< by option
    std::vector<std::size_t> past_to_end_; ///< by option: where starts of slabs that end at the sirloin face end
};

/// The table of all states: a layer each. A slab leads from a layer to itself or to a later one, so they are filled in order.
/// If the problem has an order of cuts, how far that has come multiplies the states behind those asked for: what is said of a
/// state is then said of the best that it can be together with any of them.
template <objective O>
class count_states {
public:
    using score_type = typename O::score_type;

    /// Fills the table. O(positions × states × options) for separable objectives, times the window for others; one entry of
    /// a score and eight bytes for each position and state. Throws `invalid_input` where a spec must have one thickness and
    /// has a choice of several: that is no count; and where an order of cuts makes more entries than `most_entries`.
    count_states(const cutting_problem& problem, const O& objective, std::vector<slab_counter> counters,
                 length thinnest = {}, std::size_t most_entries = most_ordered_entries)
        : problem_(problem), counters_(std::move(counters)), asked_(states_of(counters_)), width_(problem.cells() + 1),
          orders_(order_states_within(problem, most_entries, asked_)) {
        if (const auto linked = problem.varying(); !linked.empty())
            throw invalid_input(problem.spec_of(linked.front()).name + ": one_thickness", "true",
                                "false where plans are told apart by counts; give a single thickness");
        table_.resize(asked_ * orders_.count() * width_);
        for (std::size_t o = 0; o < problem.option_count(); ++o) add_sources(o, 0, 0, {});
        table_[problem.start()].source = entry::origin;
        const layer_filler<O> filler(problem, objective, thinnest);
        std::vector<typename layer_filler<O>::way> ways;
        for (std::size_t order = 0; order < orders_.count(); ++order)
            for (std::size_t state = 0; state < asked_; ++state) {
                ways.clear();
                for (std::size_t i = 0; i < sources_.size(); ++i) {
                    if (!leads_into(state, sources_[i])) continue;
                    for (std::size_t before = 0; before <= order; ++before)
                        if (orders_.behind(before, sources_[i].option) == order)
                            ways.push_back({sources_[i].option, layer(before, state - sources_[i].stride),
                                            i * orders_.count() + before});
                }
                filler.fill(layer(order, state), ways);
            }
    }

    /// Of the counters asked for.
    [[nodiscard]] std::size_t states() const { return asked_; }
    /// All of them, those for the order of cuts too.
    [[nodiscard]] std::size_t searched() const { return asked_ * orders_.count(); }
    /// What a counter says in a state.
    [[nodiscard]] std::size_t digit(std::size_t state, std::size_t counter) const {
        for (std::size_t c = 0; c < counter; ++c) state /= counters_[c].top + 1;
        return state % (counters_[counter].top + 1);
    }
    /// Whether the whole loin can be cut so that it ends in this state, and the best score of doing so.
    [[nodiscard]] bool possible(std::size_t state) const { return bool(last(best_order(state), state)); }
    [[nodiscard]] const score_type& score(std::size_t state) const { return last(best_order(state), state).score; }

    /// The best tiling that ends in this state, which is possible. Ties go as in `segment`, and towards smaller counts.
    [[nodiscard]] std::vector<stretch> stretches(std::size_t state) const {
        std::vector<stretch> result;
        std::size_t order = best_order(state);
        for (std::size_t at = problem_.cells(); at > problem_.start();) {
            const entry& best = layer(order, state)[at];
            const source& by = sources_[best.source / orders_.count()];
            result.push_back(stretch_of(problem_, by.option, best.from, at));
            at = best.from;
            order = best.source % orders_.count();
            state -= by.stride;
        }
        std::reverse(result.begin(), result.end());
        return result;
    }

private:
    using entry = reached<score_type>;

    /// Slabs of an option that lead from a state to the one `stride` behind it. Where a counter saturates, there are two.
    struct source {
        std::size_t option = 0, stride = 0;
        std::vector<bool> stays; ///< by counter: whether it is saturated already
    };

    void add_sources(std::size_t option, std::size_t counter, std::size_t stride, std::vector<bool> stays) {
        if (counter == counters_.size()) {
            sources_.push_back({option, stride, std::move(stays)});
            return;
        }
        std::size_t unit = 1;
        for (std::size_t c = 0; c < counter; ++c) unit *= counters_[c].top + 1;
        const slab_counter& mine = counters_[counter];
        const std::size_t step = mine.steps[option];
        stays.push_back(false);
        add_sources(option, counter + 1, stride + step * unit, stays);
        stays.back() = true;
        if (mine.saturates && step > 0) add_sources(option, counter + 1, stride, std::move(stays));
    }

    /// Whether a slab of this source can lead into a state.
    [[nodiscard]] bool leads_into(std::size_t state, const source& s) const {
        for (std::size_t c = 0; c < counters_.size(); ++c) {
            const std::size_t count = state % (counters_[c].top + 1);
            if (s.stays[c] ? count != counters_[c].top : count < counters_[c].steps[s.option]) return false;
            state /= counters_[c].top + 1;
        }
        return true;
    }

    /// Of a state of the counters asked for: how far the order has come where it is best.
    [[nodiscard]] std::size_t best_order(std::size_t state) const {
        std::size_t best = 0;
        for (std::size_t order = 1; order < orders_.count(); ++order)
            if (last(order, state) && (!last(best, state) || last(best, state).score < last(order, state).score))
                best = order;
        return best;
    }
    [[nodiscard]] const entry* layer(std::size_t order, std::size_t state) const {
        return &table_[(order * asked_ + state) * width_];
    }
    [[nodiscard]] entry* layer(std::size_t order, std::size_t state) {
        return &table_[(order * asked_ + state) * width_];
    }
    [[nodiscard]] const entry& last(std::size_t order, std::size_t state) const {
        return layer(order, state)[problem_.cells()];
    }

    const cutting_problem& problem_;
    std::vector<slab_counter> counters_;
    std::size_t asked_, width_;
    order_states orders_;
    std::vector<entry> table_;
    std::vector<source> sources_;
};

} // namespace tranche::detail
