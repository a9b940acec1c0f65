// Every limit on a single slab, decided once: for each option and end of a slab the interval of its starts.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include <tranche/optimise/request/detail/cut_places.hpp>
#include <tranche/optimise/request/detail/option_window.hpp>

namespace tranche::detail {

/// Where slabs that end at one position may start: first, first + stride, ... below past.
struct slab_starts {
    std::uint32_t first = 0, past = 0;

    [[nodiscard]] bool empty() const { return first >= past; }
    [[nodiscard]] bool holds(std::size_t from, std::size_t stride) const {
        return first <= from && from < past && (from - first) % stride == 0;
    }
    friend bool operator==(const slab_starts&, const slab_starts&) = default;
};

/// Slabs of one option: their starts for each end. Cumulative weights never fall, so what is heavy and light enough is an
/// interval, and neither of its limits falls from one end to the next in front of the sirloin face. The face is apart from
/// that: no kerf, a last cell that may be short, and the least remnant of loose meat.
class slab_lane {
public:
    /// Loose meat, where it may lie: up to the sirloin face as large as a remnant must be, otherwise `least_cells` or more; but
    /// beside pinned cuts of any thickness, and so from `start`, unless a cut was made there.
    [[nodiscard]] static slab_lane of_loose(std::size_t option, std::size_t start, std::size_t cells,
                                            const option_window& w, const cut_places& places = {}) {
        slab_lane lane(option, 1, cells);
        const auto up_to = [&](std::size_t to, std::size_t open, bool pinned) {
            const std::size_t first = std::max(open, w.first_from);
            std::size_t past = to == cells ? w.last_to_end + 1 : to + 1 - std::min(to + 1, w.least_cells);
            if (first == open && (open > start || w.thin_at_start || to == cells)) past = std::max(past, first + 1);
            if (pinned) past = to;
            if (!w.between && to < cells) past = std::min(past, start + 1);
            lane.to_[to] = {static_cast<std::uint32_t>(first), static_cast<std::uint32_t>(std::min(past, to))};
        };
        const std::size_t past_to = std::min(cells + 1, w.past_to);
        if (!places.pinned.empty()) {
            for (std::size_t to = start + 1; to < past_to; ++to)
                up_to(to, std::max(start, places.last_pin[to]), places.is_pinned(to));
        } else { // several ends at a time
            const auto first = static_cast<std::int32_t>(std::max(start, w.first_from)),
                       least = static_cast<std::int32_t>(w.least_cells),
                       thin = w.first_from <= start && w.thin_at_start ? first + 1 : 0,
                       most = static_cast<std::int32_t>(w.between ? cells : start + 1),
                       last = static_cast<std::int32_t>(std::min(past_to, cells));
            slab_starts* const starts = lane.to_.data();
            for (auto to = static_cast<std::int32_t>(start) + 1; to < last; ++to) {
                const std::int32_t thick = to + 1 - least, past = thick > thin ? thick : thin;
                const std::int32_t kept = past < most ? past : most;
                starts[to] = {static_cast<std::uint32_t>(first), static_cast<std::uint32_t>(kept < to ? kept : to)};
            }
            if (cells < past_to && start < cells) up_to(cells, start, false);
        }
        lane.note_reach(start + 1, past_to);
        lane.least_cells_ = places.pinned.empty() ? std::max(w.least_cells, std::size_t{1}) : 1;
        return lane;
    }
    /// All that lies between the start, pinned cuts and the sirloin face as loose slabs, one each: there is always a tiling.
    [[nodiscard]] static slab_lane of_all_loose(std::size_t option, std::size_t start, std::size_t cells,
                                                const cut_places& places) {
        slab_lane lane(option, 1, cells);
        for (std::size_t from = start; from < cells;) {
            const std::size_t to = places.next_pin(from, cells);
            lane.to_[to] = {static_cast<std::uint32_t>(from), static_cast<std::uint32_t>(from + 1)};
            from = to;
        }
        lane.note_reach();
        return lane;
    }
    /// Portions: two pointers over the weights in front of and behind a slab. O(positions).
    [[nodiscard]] static slab_lane of_portions(std::size_t option, std::size_t start, std::size_t cells,
                                               const option_window& w, const std::int64_t* front,
                                               const std::int64_t* back) {
        slab_lane lane(option, w.stride, cells);
        const std::size_t first_from = std::max(start, w.first_from), least = w.least_cells, most = w.most_cells;
        const std::size_t past_from = w.past_from;
        const std::size_t first_to = first_from + least, past_to = std::min({w.past_to, cells, past_from + most});
        slab_starts* const starts = lane.to_.data();
        weight_limits within{front, back, w.least_weight, w.most_weight, start, start};
        const bool of_any_weight = w.least_weight <= 0 && back[cells] <= w.most_weight;
        const auto nearest = static_cast<std::int32_t>(first_from), last = static_cast<std::int32_t>(past_from),
                   thin = static_cast<std::int32_t>(least), thick = static_cast<std::int32_t>(most);
        for (auto to = static_cast<std::int32_t>(first_to); to < static_cast<std::int32_t>(past_to); ++to) {
            const std::int32_t first = to - thick, past = to + 1 - thin;
            starts[to] = {static_cast<std::uint32_t>(first > nearest ? first : nearest),
                          static_cast<std::uint32_t>(past < last ? past : last)};
        }
        if (!of_any_weight || w.stride > 1)
            for (std::size_t to = first_to; to < past_to; ++to)
                starts[to] = lane.notched(within.of(to, starts[to]), to - least);
        lane.note_reach(first_to, past_to);
        if (start < cells && cells < w.past_to && w.first_to_end <= w.last_to_end) {
            const slab_starts all{static_cast<std::uint32_t>(std::max(first_from, w.first_to_end)),
                                  static_cast<std::uint32_t>(std::min({w.last_to_end + 1, past_from, cells}))};
            within.heavy = within.light = start;
            starts[cells] = lane.notched(within.of(cells, all), w.last_to_end);
            lane.note_reach(cells, cells + 1);
        }
        return lane;
    }

    static constexpr std::size_t all_bands = std::numeric_limits<std::size_t>::max();

    [[nodiscard]] std::size_t option() const { return option_; }
    /// The band of weights that all slabs of the lane lie in, or `all_bands`.
    [[nodiscard]] std::size_t band() const { return band_; }
    /// The same slabs as far as they lie in a band: they weigh more than `above`, and no more than `most`.
    [[nodiscard]] slab_lane of_band(std::size_t band, const std::int64_t* front, const std::int64_t* back,
                                    std::int64_t above, std::int64_t most) const {
        slab_lane lane = of_weights(front, back, above + 1, most);
        lane.band_ = band;
        return lane;
    }
    [[nodiscard]] std::size_t stride() const { return stride_; }
    [[nodiscard]] const slab_starts& to(std::size_t end) const { return to_[end]; }
    [[nodiscard]] const slab_starts* by_end() const { return to_.data(); }
    [[nodiscard]] bool empty() const { return past_ == 0; }
    /// The ends [first, past) outside of which no slab ends in front of the sirloin face.
    [[nodiscard]] std::size_t first_end() const { return first_; }
    [[nodiscard]] std::size_t past_end() const { return std::min(past_, to_.size() - 1); }
    /// No end in front of the face has more starts than this.
    [[nodiscard]] std::size_t most_starts() const { return most_starts_; }
    /// The fewest cells of a slab in front of the face, those of loose meat from the first start left out.
    [[nodiscard]] std::size_t least_cells() const { return least_cells_; }

    /// The same slabs as far as `keep(to, starts)` leaves them: it gives an interval, which is cut to the one there was.
    template <class Keep>
    [[nodiscard]] slab_lane narrowed(const Keep& keep) const {
        slab_lane lane(option_, stride_, to_.size() - 1);
        for (std::size_t to = first_; to < past_; ++to) {
            const slab_starts all = to_[to];
            if (all.empty()) continue;
            const slab_starts kept = keep(to, all);
            std::size_t first = std::max(all.first, kept.first);
            if (stride_ > 1) first += (stride_ - (first - all.first) % stride_) % stride_;
            lane.to_[to] = {static_cast<std::uint32_t>(first), std::min(all.past, kept.past)};
        }
        lane.note_reach();
        return lane;
    }

    /// The same slabs as far as they lie across no pinned cut and end where they are not barred (see `cut_places`).
    [[nodiscard]] slab_lane between(const cut_places& places, const std::vector<bool>& barred) const {
        slab_lane lane = narrowed([&](std::size_t to, const slab_starts& all) {
            if (!barred.empty() && barred[to]) return slab_starts{};
            const std::size_t first = places.pinned.empty() ? 0 : places.last_pin[to];
            return slab_starts{static_cast<std::uint32_t>(first), all.past};
        });
        lane.least_cells_ = std::min(lane.least_cells_, least_cells_);
        return lane;
    }

    /// The same slabs as far as they weigh no less than `least` and no more than `most` micrograms. O(positions).
    [[nodiscard]] slab_lane of_weights(const std::int64_t* front, const std::int64_t* back, std::int64_t least,
                                       std::int64_t most) const {
        weight_limits within{front, back, least, most, 0, 0};
        return narrowed([&](std::size_t to, const slab_starts& all) {
            if (to + 1 == to_.size()) within.heavy = within.light = all.first;
            return within.of(to, all);
        });
    }

private:
    /// Two pointers that move on with the ends of slabs: the first starts that are not too heavy, and too light.
    struct weight_limits {
        const std::int64_t *front, *back;
        std::int64_t least, most;
        std::size_t heavy, light;

        [[nodiscard]] slab_starts of(std::size_t to, const slab_starts& all) {
            const std::int64_t reach = back[to], heaviest = reach - most, lightest = reach - least;
            std::size_t h = heavy, l = light;
            while (h < all.past && front[h] < heaviest) ++h;
            while (l < all.past && front[l] <= lightest) ++l;
            heavy = h;
            light = l;
            return {std::max(all.first, static_cast<std::uint32_t>(h)),
                    std::min(all.past, static_cast<std::uint32_t>(l))};
        }
    };
    /// From the first start of a residue class on.
    [[nodiscard]] slab_starts notched(slab_starts all, std::size_t one_of_class) const {
        if (stride_ > 1)
            all.first += static_cast<std::uint32_t>((one_of_class % stride_ + stride_ - all.first % stride_) % stride_);
        return all;
    }

    slab_lane(std::size_t option, std::size_t stride, std::size_t cells)
        : option_(option), stride_(stride), to_(cells + 1) {}

    /// Of the ends [first, past), which go on from those that were noted.
    void note_reach(std::size_t first, std::size_t past) {
        const std::size_t end = to_.size() - 1;
        while (first < past && to_[first].empty()) ++first;
        while (first < past && to_[past - 1].empty()) --past;
        if (first >= past) return;
        if (past_ == 0) first_ = first;
        past_ = past;
        constexpr auto none = std::numeric_limits<std::int32_t>::max();
        const slab_starts* const starts = to_.data();
        std::int32_t most = 0, least = none;
        for (auto to = static_cast<std::int32_t>(first); to < static_cast<std::int32_t>(std::min(past, end)); ++to) {
            const auto from = static_cast<std::int32_t>(starts[to].first),
                       behind = static_cast<std::int32_t>(starts[to].past);
            const std::int32_t count = behind - from, cells = (to + 1 - behind) | (count > 0 ? 0 : none);
            most = most < count ? count : most;
            least = cells < least ? cells : least;
        }
        most_starts_ = std::max(most_starts_, static_cast<std::size_t>(most));
        if (least < none) least_cells_ = std::min(least_cells_, static_cast<std::size_t>(least));
    }
    void note_reach() { note_reach(0, to_.size()); }

    std::size_t option_, stride_, band_ = all_bands;
    std::vector<slab_starts> to_;
    std::size_t first_ = 0, past_ = 0, most_starts_ = 0;
    std::size_t least_cells_ = std::numeric_limits<std::size_t>::max();
};

/// All slabs of a problem between the first position behind the facing and the sirloin face: a network whose paths are the
/// ways to cut the loin. Lanes go by option, and those of one option from thick to thin. Where the first loose cut may not
/// be all of it, a further lane at the end has that one slab; with pinned cuts, all that lies between two.
struct slab_graph {
    std::size_t start = 0, end = 0, loose_count = 0, option_count = 0;
    std::vector<slab_lane> lanes;

    bool loose_everywhere = true; ///< whether a slab of the first lane leads from the start to every position

    /// Calls f(lane, from, to) for each slab of portions, lane by lane, by where it ends and then by where it starts.
    template <class F>
    void each_portion_slab(const F& f) const {
        for (const slab_lane& lane : lanes) {
            if (lane.option() < loose_count) continue;
            for (std::size_t to = start + 1; to <= end; ++to)
                for (std::size_t from = lane.to(to).first; from < lane.to(to).past; from += lane.stride())
                    f(lane, from, to);
        }
    }
};

} // namespace tranche::detail
