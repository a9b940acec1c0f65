// The best scores of all positions by lanes in runs: plain loops over neighbours, for numbers that compilers take several at a time.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <type_traits>
#include <vector>

#include <tranche/optimise/engine/detail/slab_runs.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The highest of an interval of keys that come one after the other: of each power of two the highest of so many from each position
/// on (the sparse table of range queries, common knowledge), as far as somebody asks.
template <class Score>
class key_maximum {
public:
    /// Of positions from `start` to `end`, whose keys are their scores and this; what is there stays as room.
    void restart(std::size_t start, std::size_t end, const Score* opening) {
        opening_ = opening;
        width_ = end + 1;
        start_ = start;
        std::fill(next_.begin(), next_.end(), start);
    }
    /// The highest of 2^`level` keys from each position on, all of which lie in front of `past`.
    const Score* up_to(std::size_t past, std::size_t level, const Score* scores) {
        if (level >= highest_.size()) highest_.resize(level + 1), next_.resize(level + 1, start_);
        if (highest_[level].size() < width_) highest_[level].resize(width_);
        const std::size_t whole = std::size_t{1} << level;
        if (next_[level] + whole <= past) {
            Score* const to = highest_[level].data();
            const std::size_t from = next_[level], count = past + 1 - whole - from;
            if (level == 0) {
                sum(to + from, scores + from, opening_ + from, count);
            } else {
                const Score* const below = up_to(past, level - 1, scores);
                higher(to + from, below + from, below + from + whole / 2, count);
            }
            next_[level] = past + 1 - whole;
        }
        return highest_[level].data();
    }
    [[nodiscard]] Score best(const slab_starts& starts, const Score* scores) {
        const auto level = static_cast<std::uint32_t>(std::bit_width(starts.past - starts.first)) - 1U;
        const Score* const of_level = up_to(starts.past, level, scores);
        return std::max(of_level[starts.first], of_level[starts.past - (1U << level)]);
    }

private:
    static void sum(Score* __restrict to, const Score* a, const Score* b, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) to[i] = a[i] + b[i];
    }
    static void higher(Score* __restrict to, const Score* a, const Score* b, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) {
            const Score x = a[i], y = b[i];
            to[i] = x > y ? x : y;
        }
    }

    std::vector<std::vector<Score>> highest_; ///< by level, then position
    std::vector<std::size_t> next_;           ///< by level: the first position that it lacks
    const Score* opening_ = nullptr;
    std::size_t width_ = 0, start_ = 0;
};

/// What an option adds to a slab: by where it starts, by where it ends, and always. Options of one opening share their `key`.
template <class Score>
struct run_terms {
    const Score* opening = nullptr;
    const Score* closing = nullptr;
    Score constant{};
    std::size_t key = 0;
};

/// The best score of a way to each position, whole numbers in 64 bits or in a `double` that holds them. A lane whose slabs have
/// at least so many cells looks at so many ends at a time; loose meat, which may be thin, goes from end to end.
template <class Score>
class run_search {
public:
    /// Lanes in any order and the terms of their options; a slab of loose meat leads from the start to every position. O(positions
    /// × lanes), for notches times the starts of a slab. What is handed over has to stay as long as this is asked.
    template <class = when_called>
    void run(const run_lanes& lanes, const std::vector<run_terms<Score>>& terms, std::size_t keys, std::size_t start,
             std::size_t end) {
        begin(lanes, terms, keys, start, end);
        for (std::size_t known = start + 1; known < end;) { // scores in front of `known` are there
            const std::size_t past = std::min(known + cells_, end);
            for (lane_state& of : portions_)
                if (of.next < past) offer(of, known);
            for (; known < past; ++known) offer_loose(known);
        }
        offer_at_end();
    }
    [[nodiscard]] Score score(std::size_t position) const { return scores_[position]; }
    /// The highest score of a way to one of these starts and of what opens a slab there.
    [[nodiscard]] Score best(std::size_t key, const slab_starts& starts) {
        return keys_[key].best(starts, scores_.data());
    }

    /// The same of the starts of loose meat up to an end, of the loose cut in this place among those with slabs.
    [[nodiscard]] Score best_loose(std::size_t place, std::size_t to) const {
        return loose_best_[place * (end_ + 1) + to];
    }

private:
    static constexpr Score nowhere_ =
        std::is_floating_point_v<Score> ? Score(-1e18) : Score(-4'000'000'000'000'000'000);

    struct lane_state {
        const run_lane* lane = nullptr;
        const slab_run* run = nullptr; ///< that the next end lies in
        run_terms<Score> terms{};
        std::size_t next = 0; ///< the first end that it has not looked at
    };
    struct loose_state {
        const run_lane* lane = nullptr;
        const slab_run* run = nullptr;
        run_terms<Score> terms{};
        std::size_t next = 0; ///< the first start that was not looked at
        Score best = nowhere_;
    };

    template <class = when_called>
    void begin(const run_lanes& lanes, const std::vector<run_terms<Score>>& terms, std::size_t keys, std::size_t start,
               std::size_t end) {
        start_ = start;
        end_ = end;
        cells_ = end - start;
        if (keys_.size() < keys) keys_.resize(keys);
        portions_.clear();
        loose_.clear();
        for (const run_lane& lane : lanes.lanes()) {
            const run_terms<Score>& of = terms[lane.option];
            if (lane.loose) {
                if (loose_best_.size() < (loose_.size() + 1) * (end + 1))
                    loose_best_.resize((loose_.size() + 1) * (end + 1));
                loose_.push_back({&lane, lanes.runs(lane), of, lane.first_start, nowhere_});
                continue;
            }
            keys_[of.key].restart(start, end, of.opening);
            portions_.push_back(
                {&lane, lanes.runs(lane), of, lane.first_end == lane.past_end ? end : std::size_t{lane.first_end}});
            cells_ = std::min(cells_, std::size_t{lane.least_cells});
        }
        scores_.assign(end + 1, nowhere_);
        scores_[start] = Score{};
    }
    /// Ends of slabs whose starts all lie in front of `known`.
    void offer(lane_state& of, std::size_t known) {
        const run_lane& lane = *of.lane;
        const std::size_t lane_past = std::min<std::size_t>(lane.past_end, end_);
        const std::size_t past = std::min(known + lane.least_cells, lane_past);
        std::size_t to = of.next;
        while (to < past) {
            const slab_run& now = *of.run;
            const std::size_t stop = std::min<std::size_t>(now.past, past);
            if (now.longest != now.shortest) {
                if (lane.stride == 1)
                    offer_run(of, now, to, stop, known);
                else
                    offer_notched(of, now, to, stop, known);
            }
            to = stop;
            if (to == now.past) ++of.run;
        }
        of.next = to >= lane_past ? end_ : to;
    }
    void offer_run(const lane_state& of, const slab_run& run, std::size_t to, std::size_t past, std::size_t known) {
        const auto level = static_cast<std::uint32_t>(std::bit_width(run.longest - run.shortest)) - 1U;
        const Score* const highest = keys_[of.terms.key].up_to(known, level, scores_.data());
        Score* const into = scores_.data() + to;
        const Score* const closing = of.terms.closing + to;
        const Score* const early = highest + to - run.longest;
        const std::size_t late_by = run.longest - run.shortest - (1U << level);
        if (late_by == 0)
            raise(into, early, closing, of.terms.constant, past - to);
        else
            raise(into, early, early + late_by, closing, of.terms.constant, past - to);
    }
    static void raise(Score* __restrict into, const Score* keys, const Score* closing, Score constant,
                      std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) {
            const Score now = into[i], value = keys[i] + closing[i] + constant;
            into[i] = now > value ? now : value;
        }
    }
    static void raise(Score* __restrict into, const Score* early, const Score* late, const Score* closing,
                      Score constant, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) {
            const Score a = early[i], b = late[i];
            const Score now = into[i], value = (a > b ? a : b) + closing[i] + constant;
            into[i] = now > value ? now : value;
        }
    }
    void offer_notched(const lane_state& of, const slab_run& run, std::size_t to, std::size_t past, std::size_t known) {
        const Score* const keys = keys_[of.terms.key].up_to(known, 0, scores_.data());
        for (; to < past; ++to)
            offer_each(of, keys,
                       {static_cast<std::uint32_t>(to - run.longest), static_cast<std::uint32_t>(to - run.shortest)},
                       to);
    }
    void offer_each(const lane_state& of, const Score* keys, const slab_starts& starts, std::size_t to) {
        Score most = nowhere_;
        for (std::size_t from = starts.first; from < starts.past; from += of.lane->stride)
            most = std::max(most, keys[from]);
        scores_[to] = std::max(scores_[to], most + of.terms.closing[to] + of.terms.constant);
    }
    void offer_loose(std::size_t to) {
        Score* best = loose_best_.data() + to;
        for (loose_state& of : loose_) {
            if (to >= of.lane->first_end && to < of.lane->past_end) {
                while (of.run->past <= to) ++of.run;
                offer_loose(of, run_lane::past_start(*of.run, to), to);
            }
            *best = of.best;
            best += end_ + 1;
        }
    }
    void offer_loose(loose_state& of, std::size_t past, std::size_t to) {
        for (; of.next < past; ++of.next) of.best = std::max(of.best, scores_[of.next] + of.terms.opening[of.next]);
        if (past > of.lane->first_start)
            scores_[to] = std::max(scores_[to], of.best + of.terms.closing[to] + of.terms.constant);
    }
    template <class = when_called>
    void offer_at_end() {
        Score* best = loose_best_.data() + end_;
        for (loose_state& of : loose_) {
            const slab_starts& starts = of.lane->at_end;
            if (!starts.empty()) {
                if (starts.past < of.next) of.next = starts.first, of.best = nowhere_; // a remnant has to start earlier
                offer_loose(of, starts.past, end_);
            }
            *best = of.best;
            best += end_ + 1;
        }
        for (const lane_state& of : portions_)
            if (!of.lane->at_end.empty())
                offer_each(of, keys_[of.terms.key].up_to(end_, 0, scores_.data()), of.lane->at_end, end_);
    }

    std::vector<Score> loose_best_; ///< of each loose cut, by the end of its slabs: the best start
    std::size_t start_ = 0, end_ = 0, cells_ = 0;
    std::vector<Score> scores_;
    std::vector<key_maximum<Score>> keys_;
    std::vector<lane_state> portions_;
    std::vector<loose_state> loose_;
};

} // namespace tranche::detail
