// A histogram in bins of one width, of which only those with something in them take room, and no more than so many do.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace tranche::detail {

/// Counts by bin. Bin k holds the whole numbers from k w to k w + w - 1 with w = width × 2^level. The level is the lowest at which
/// at most `most_bins` bins hold something: a property of what was counted and not of the order, because wider bins are made of whole
/// narrower ones. So adding tables up is associative and commutative, to the last bit, and memory has a bound.
///
/// Open addressing by powers of two; a free place has a count of zero.
class bin_table {
public:
    using entry = std::pair<std::int64_t, std::uint64_t>; // bin, count

    static constexpr std::size_t most_bins = std::size_t{1} << 16U;

    explicit bin_table(std::int64_t width) : width_(width), inverse_(1.0 / static_cast<double>(width)) {}

    /// Values up to 2^47 either way.
    void add(std::int64_t value) { add_bin(bin_of(value) >> level_, 1); }

    void add(const bin_table& other) {
        while (level_ < other.level_) coarsen();
        for (const entry& e : other.entries_)
            if (e.second > 0) add_at(e.first, e.second, other.level_);
    }

    [[nodiscard]] std::uint32_t level() const { return level_; }
    [[nodiscard]] std::size_t occupied() const { return occupied_; }
    [[nodiscard]] std::int64_t width() const { return width_ << level_; }

    /// Rising, none empty.
    [[nodiscard]] std::vector<entry> sorted() const {
        std::vector<entry> bins;
        bins.reserve(occupied_);
        for (const entry& e : entries_)
            if (e.second > 0) bins.push_back(e);
        std::sort(bins.begin(), bins.end());
        return bins;
    }

    /// A table of this level and these entries, as read from somewhere; `entries` rising, none empty, at most `most_bins`.
    bin_table(std::int64_t width, std::uint32_t level, const std::vector<entry>& entries) : bin_table(width) {
        level_ = level;
        for (const entry& e : entries) add_bin(e.first, e.second);
    }

private:
    /// ⌊value / width⌋. Processors take tens of cycles to divide whole numbers: the product with the inverse misses by less than 1/16,
    /// so what is rounded down of it misses by one at most, and the rest says so.
    [[nodiscard]] std::int64_t bin_of(std::int64_t value) const {
        const std::int64_t bin = static_cast<std::int64_t>(static_cast<double>(value) * inverse_) - (value < 0 ? 1 : 0);
        const std::int64_t rest = value - bin * width_;
        return bin - (rest < 0 ? 1 : 0) + (rest >= width_ ? 1 : 0);
    }

    /// Bin of a level that may be below this table's, now or while it is counted.
    void add_at(std::int64_t bin, std::uint64_t count, std::uint32_t level) { add_bin(bin >> (level_ - level), count); }

    void add_bin(std::int64_t bin, std::uint64_t count) {
        if (2 * (occupied_ + 1) > entries_.size()) grow();
        entry& place = entries_[place_of(bin)];
        if (place.second == 0) {
            place.first = bin;
            ++occupied_;
        }
        place.second += count;
        while (occupied_ > most_bins) coarsen();
    }

    [[nodiscard]] std::size_t place_of(std::int64_t bin) const {
        const std::size_t mask = entries_.size() - 1;
        std::size_t place =
            static_cast<std::size_t>((static_cast<std::uint64_t>(bin) * 0x9E3779B97F4A7C15U) >> 32U) & mask;
        while (entries_[place].second > 0 && entries_[place].first != bin) place = (place + 1) & mask;
        return place;
    }

    void grow() { rebuild(std::max<std::size_t>(16, 2 * entries_.size()), 0); }
    void coarsen() {
        ++level_;
        rebuild(entries_.size(), 1);
    }
    void rebuild(std::size_t places, unsigned levels) {
        std::vector<entry> old(places);
        old.swap(entries_);
        occupied_ = 0;
        for (const entry& e : old) {
            if (e.second == 0) continue;
            const std::int64_t bin = e.first >> levels;
            entry& place = entries_[place_of(bin)];
            if (place.second == 0) {
                place.first = bin;
                ++occupied_;
            }
            place.second += e.second;
        }
    }

    std::int64_t width_;
    double inverse_;
    std::uint32_t level_ = 0;
    std::size_t occupied_ = 0;
    std::vector<entry> entries_{};
};

} // namespace tranche::detail
