// A histogram in bins of one width, of which only those with something in them take room, and no more than so many do.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <utility>
#include <vector>

#include <tranche/units/detail/wide_integer.hpp>

namespace tranche::detail {

/// Counts by bin. Bin k holds the whole numbers from k w to k w + w - 1 with w = width × 2^level. The level is the lowest at which
/// at most `most_bins` bins hold something: a property of what was counted and not of the order, because wider bins are made of whole
/// narrower ones. So adding tables up is associative and commutative, to the last bit, and memory has a bound.
///
/// Open addressing by powers of two; a free place has a count of zero, and a bin that no value falls into.
class bin_table {
public:
    using entry = std::pair<std::int64_t, std::uint64_t>; // bin, count

    static constexpr std::size_t most_bins = std::size_t{1} << 16U;

    /// 1 to 2^47 wide.
    explicit bin_table(std::int64_t width)
        : width_(width), shift_(static_cast<unsigned>(std::bit_width(static_cast<std::uint64_t>(width))) - 1),
          inverse_(static_cast<std::uint64_t>((wide_integer{1} << (63U + shift_)) / width) + 1),
          bins_below_zero_((most_value + width - 1) / width) {}

    /// Values up to 2^47 either way.
    void add(std::int64_t value) { add_bin(bin_of(value) >> level_, 1); }

    /// The same of several, in whatever order: how wide bins are is seen at the end.
    void add(std::span<const std::int64_t> values) {
        constexpr std::size_t at_once = 64;
        for (; !values.empty(); values = values.subspan(std::min(at_once, values.size()))) {
            const std::span<const std::int64_t> some = values.first(std::min(at_once, values.size()));
            make_room(some.size());
            const std::size_t mask = entries_.size() - 1;
            entry* const entries = entries_.data();
            for (const std::int64_t value : some) {
                const std::int64_t bin = bin_of(value) >> level_;
                entry& first_place = entries[hash_of_bin(bin) & mask];
                if (first_place.first == bin)
                    ++first_place.second;
                else
                    count_in(bin, 1);
            }
            while (occupied_ > most_bins) coarsen();
        }
    }

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
    /// ⌊value / width⌋, by a product, for processors take tens of cycles to divide. With 2^s <= w < 2^(s+1) and n below 2^49 (value and
    /// as many bins as take it above zero) it is ⌊2n m / 2^(64+s)⌋, with m = ⌊2^(63+s) / w⌋ + 1: that is too large by 2^(-14-s) at most,
    /// and n / w is a multiple of 1 / w, more than 2^(-1-s).
    [[nodiscard]] std::int64_t bin_of(std::int64_t value) const {
        const auto n = static_cast<std::uint64_t>(value + bins_below_zero_ * width_);
        const auto high = static_cast<std::uint64_t>((wide_integer{2 * n} * inverse_) >> 64U);
        return static_cast<std::int64_t>(high >> shift_) - bins_below_zero_;
    }

    /// Bin of a level that may be below this table's, now or while it is counted.
    void add_at(std::int64_t bin, std::uint64_t count, std::uint32_t level) { add_bin(bin >> (level_ - level), count); }

    void add_bin(std::int64_t bin, std::uint64_t count) {
        make_room(1);
        count_in(bin, count);
        while (occupied_ > most_bins) coarsen();
    }

    /// So that half of the places stay free, or nearly so once the table is as large as it gets.
    void make_room(std::size_t bins) {
        while (2 * (occupied_ + bins) > entries_.size() && entries_.size() < 2 * most_bins) grow();
    }
    void count_in(std::int64_t bin, std::uint64_t count) {
        entry& place = entries_[place_of(bin)];
        if (place.second == 0) {
            place.first = bin;
            ++occupied_;
        }
        place.second += count;
    }

    [[nodiscard]] static std::size_t hash_of_bin(std::int64_t bin) {
        return static_cast<std::size_t>((static_cast<std::uint64_t>(bin) * 0x9E3779B97F4A7C15U) >> 32U);
    }
    [[nodiscard]] std::size_t place_of(std::int64_t bin) const {
        const std::size_t mask = entries_.size() - 1;
        std::size_t place = hash_of_bin(bin) & mask;
        while (entries_[place].second > 0 && entries_[place].first != bin) place = (place + 1) & mask;
        return place;
    }

    void grow() { rebuild(std::max<std::size_t>(16, 2 * entries_.size()), 0); }
    void coarsen() {
        ++level_;
        rebuild(entries_.size(), 1);
    }
    void rebuild(std::size_t places, unsigned levels) {
        std::vector<entry> old(places, entry{no_bin, 0});
        old.swap(entries_);
        occupied_ = 0;
        for (const entry& e : old) {
            if (e.second == 0) continue;
            count_in(e.first >> levels, e.second);
        }
    }

    static constexpr std::int64_t most_value = std::int64_t{1} << 47U;
    static constexpr std::int64_t no_bin = std::numeric_limits<std::int64_t>::min();

    std::int64_t width_;
    unsigned shift_;
    std::uint64_t inverse_;
    std::int64_t bins_below_zero_; // that hold all values there are
    std::uint32_t level_ = 0;
    std::size_t occupied_ = 0;
    std::vector<entry> entries_{};
};

} // namespace tranche::detail
