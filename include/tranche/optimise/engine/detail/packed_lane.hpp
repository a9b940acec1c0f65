// A lane of slabs in little room, and the best start of an interval, which many lanes may share.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <variant>
#include <vector>

#include <tranche/optimise/engine/detail/slab_graph.hpp>
#include <tranche/optimise/engine/detail/start_queue.hpp>

namespace tranche::detail {

/// A `slab_lane` that is not narrowed any more. Of each end in front of the sirloin face it keeps the most and one less than the fewest
/// cells of a slab, in a byte each if they fit, and of none outside of the ends that there are: a lane of loose meat, whose slabs
/// may be as long as the loin, takes two bytes for each below 65,536 cells.
class packed_lane {
public:
    explicit packed_lane(const slab_lane& lane, std::size_t cells)
        : option_(lane.option()), stride_(lane.stride()), band_(lane.band()), first_(lane.first_end()),
          past_(std::max(lane.first_end(), lane.past_end())), most_starts_(lane.most_starts()),
          least_cells_(lane.least_cells()), cells_(cells), at_end_(lane.to(cells)) {
        std::size_t longest = 0;
        for (std::size_t to = first_; to < past_; ++to)
            if (!lane.to(to).empty()) longest = std::max(longest, to - lane.to(to).first);
        if (longest <= std::numeric_limits<std::uint8_t>::max())
            pack<std::uint8_t>(lane);
        else if (longest <= std::numeric_limits<std::uint16_t>::max())
            pack<std::uint16_t>(lane);
        else
            pack<std::uint32_t>(lane);
    }

    [[nodiscard]] std::size_t option() const { return option_; }
    [[nodiscard]] std::size_t stride() const { return stride_; }
    [[nodiscard]] std::size_t band() const { return band_; }
    [[nodiscard]] std::size_t first_end() const { return first_; }
    [[nodiscard]] std::size_t past_end() const { return past_; }
    [[nodiscard]] std::size_t most_starts() const { return most_starts_; }
    [[nodiscard]] std::size_t least_cells() const { return least_cells_; }
    [[nodiscard]] slab_starts to(std::size_t end) const {
        if (end == cells_) return at_end_;
        slab_starts found;
        if (first_ <= end && end < past_) with_starts([&](const auto& starts) { found = starts[end]; });
        return found;
    }
    /// As of a `slab_lane`, for ends in [first_end(), past_end()).
    template <class Use>
    void with_starts(const Use& use) const {
        std::visit(
            [&]<class Cells>(const std::vector<Cells>& packed) {
                use(unpacked<Cells>{packed.data(), first_});
            },
            lengths_);
    }
    [[nodiscard]] std::size_t bytes() const {
        return sizeof *this + std::visit([](const auto& v) { return v.capacity() * sizeof v[0]; }, lengths_);
    }

private:
    template <class Cells>
    struct unpacked {
        const Cells* lengths;
        std::size_t first;

        [[nodiscard]] slab_starts operator[](std::size_t to) const {
            const Cells* const of_end = lengths + 2 * (to - first);
            const auto end = static_cast<std::uint32_t>(to);
            return {end - of_end[0], end - of_end[1]};
        }
    };

    template <class Cells>
    void pack(const slab_lane& lane) {
        std::vector<Cells> lengths;
        lengths.reserve(2 * (past_ - first_));
        for (std::size_t to = first_; to < past_; ++to) {
            const slab_starts s = lane.to(to);
            lengths.push_back(static_cast<Cells>(s.empty() ? 0 : to - s.first));
            lengths.push_back(static_cast<Cells>(s.empty() ? 0 : to - s.past));
        }
        lengths_ = std::move(lengths);
    }

    std::size_t option_, stride_, band_, first_, past_, most_starts_, least_cells_, cells_;
    slab_starts at_end_;
    std::variant<std::vector<std::uint8_t>, std::vector<std::uint16_t>, std::vector<std::uint32_t>> lengths_;
};

/// The best way to a position, without the last slab: that is looked for where it is wanted.
template <class Score>
struct best_score {
    Score score{};

    static constexpr bool everywhere = true;
    static constexpr bool score_alone = true;
    static constexpr std::uint32_t from = 0; ///< not known
    [[nodiscard]] explicit constexpr operator bool() const { return true; }

    void begin(const Score& value, std::size_t /*start*/, std::size_t /*with*/) { score = value; }
    void offer(const Score& value, std::size_t /*start*/, std::size_t /*with*/) { score = std::max(score, value); }
    void notice(const Score& /*value*/) const {}
    void notice(const best_score& /*other*/) const {}
};

/// The highest of an interval of keys that come one after the other: of each power of two the highest of so many from each position
/// on (the sparse table of range queries, common knowledge). O(log of the longest interval) for a key, O(1) for an interval.
template <class Score>
class range_maximum {
public:
    /// The highest of intervals, as a small thing to copy.
    struct view {
        const Score* highest;
        std::size_t width;

        /// Of an interval that is not empty.
        [[nodiscard]] Score best(const slab_starts& starts) const {
            const std::uint32_t level = static_cast<std::uint32_t>(std::bit_width(starts.past - starts.first)) - 1U;
            const Score* const of_level = highest + level * width;
            return std::max(of_level[starts.first], of_level[starts.past - (1U << level)]);
        }
    };

    /// For keys from `start` to `end`, of which no interval holds more than `longest`; the room that there is stays.
    void restart(std::size_t start, std::size_t end, std::size_t longest) {
        levels_ = static_cast<std::size_t>(std::bit_width(std::max(longest, std::size_t{1})));
        width_ = end + 1;
        start_ = next_ = start;
        if (highest_.size() < levels_ * width_) highest_.resize(levels_ * width_);
    }
    /// Takes in key(position) of the positions in front of `past` that are new.
    template <class Key>
    void enter(std::size_t past, const Key& key) {
        for (std::size_t at = next_; at < past; ++at) highest_[at] = key(at);
        for (std::size_t k = 1; k < levels_ && next_ < past; ++k) {
            const std::size_t half = std::size_t{1} << (k - 1U), whole = 2 * half;
            const Score* const below = &highest_[(k - 1) * width_];
            Score* const level = &highest_[k * width_];
            for (std::size_t at = std::max(next_ + 1, start_ + whole) - whole; at + whole <= past; ++at)
                level[at] = std::max(below[at], below[at + half]);
        }
        next_ = past;
    }
    [[nodiscard]] view intervals() const { return {highest_.data(), width_}; }

private:
    std::vector<Score> highest_; ///< by level and position
    std::size_t levels_ = 0, width_ = 0, start_ = 0, next_ = 0;
};

} // namespace tranche::detail
