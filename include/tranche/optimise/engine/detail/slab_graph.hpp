// Every limit on a single slab, decided once: for each option and end of a slab the interval of its starts.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/optimise/request/detail/cut_places.hpp>
#include <tranche/optimise/request/detail/option_window.hpp>

namespace tranche::detail {

// Of values, so that compilers do several at a time.
[[nodiscard]] constexpr std::int32_t lesser(std::int32_t a, std::int32_t b) { return b < a ? b : a; }
[[nodiscard]] constexpr std::int32_t greater(std::int32_t a, std::int32_t b) { return a < b ? b : a; }

/// Where slabs that end at one position may start: first, first + stride, ... below past.
struct slab_starts {
    std::uint32_t first = 0, past = 0;

    [[nodiscard]] bool empty() const { return first >= past; }
    [[nodiscard]] bool holds(std::size_t from, std::size_t stride) const {
        return first <= from && from < past && (from - first) % stride == 0;
    }
    /// Those in [from, behind).
    [[nodiscard]] slab_starts within(std::int32_t from, std::int32_t behind) const {
        return {static_cast<std::uint32_t>(greater(from, static_cast<std::int32_t>(first))),
                static_cast<std::uint32_t>(lesser(behind, static_cast<std::int32_t>(past)))};
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
                                            const option_window& w, const cut_places& places = {},
                                            std::vector<slab_starts> room = {}) {
        slab_lane lane(option, 1, cells, std::move(room));
        const bool pins = !places.pinned.empty();
        const auto between = [&](std::size_t to, std::size_t open) {
            const std::size_t first = std::max(open, w.first_from);
            std::size_t past = to == cells ? w.last_to_end + 1 : to + 1 - std::min(to + 1, w.least_cells);
            if (first == open && (open > start || w.thin_at_start || to == cells)) past = std::max(past, first + 1);
            if (pins && places.is_pinned(to)) past = to;
            if (!w.between && to < cells) past = std::min(past, start + 1);
            return slab_starts{static_cast<std::uint32_t>(first), static_cast<std::uint32_t>(std::min(past, to))};
        };
        const std::size_t thick = std::min(start + w.least_cells, cells); // from there on nothing is thin, without pins
        const bool simple = !pins && w.between;
        const auto put = [&](std::size_t to) {
            lane.to_[to] = between(to, pins ? std::max(start, places.last_pin[to]) : start);
            lane.note(to, to + 1, lane.to_[to]);
        };
        for (std::size_t to = start + 1; to < (simple ? thick : cells) && to < w.past_to; ++to) put(to);
        if (simple && thick < w.past_to) {
            const auto first = static_cast<std::uint32_t>(std::max(start, w.first_from)),
                       but_last = static_cast<std::uint32_t>(std::max(w.least_cells, std::size_t{1}) - 1);
            const auto past = static_cast<std::int32_t>(std::min(cells, w.past_to));
            slab_starts* const starts = lane.to_.data();
            for (auto to = static_cast<std::int32_t>(thick); to < past; ++to)
                starts[to] = {first, static_cast<std::uint32_t>(to) - but_last};
            const std::size_t some = std::max(thick, std::size_t{first} + but_last + 1); // from there on
            if (const auto end = static_cast<std::size_t>(past); some < end) lane.note(some, end, lane.to_[end - 1]);
        }
        if (start < cells && cells < w.past_to) put(cells);
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
    /// Portions: two limits of their starts that move on with their ends, mostly both by one position. O(positions).
    [[nodiscard]] static slab_lane of_portions(std::size_t option, std::size_t start, std::size_t cells,
                                               const option_window& w, const std::int64_t* front,
                                               const std::int64_t* back, std::vector<slab_starts> room = {}) {
        slab_lane lane(option, w.stride, cells, std::move(room));
        if (w.most_weight < 0) return lane;
        const std::size_t first_from = std::max(start, w.first_from);
        lane.fill_portions(w, first_from, front, back);
        slab_starts& at_end = lane.to_[cells];
        if (first_from < cells && cells < w.past_to && w.first_to_end <= w.last_to_end) {
            const std::size_t first = std::max(first_from, w.first_to_end),
                              past = std::min({w.past_from, w.last_to_end + 1, cells});
            if (first < past)
                at_end = starts_within(first, past, front, back[cells] - w.most_weight, lightest_front(w, back[cells]));
        }
        if (w.stride == 1) {
            lane.note(cells, cells + 1, at_end);
            return lane;
        }
        for (std::size_t to = w.least_cells; to < cells; ++to)
            if (!lane.to_[to].empty()) lane.to_[to] = lane.notched(lane.to_[to], to - w.least_cells);
        if (!at_end.empty()) at_end = lane.notched(at_end, w.last_to_end);
        lane.note_reach();
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
    /// use(starts), of which [end] are those of an end.
    template <class Use>
    void with_starts(const Use& use) const {
        use(to_.data());
    }
    /// What another lane may be made in, once this one is not needed any more.
    [[nodiscard]] std::vector<slab_starts> room() && { return std::move(to_); }
    [[nodiscard]] bool empty() const { return past_ == 0; }
    /// The ends [first, past) outside of which no slab ends in front of the sirloin face.
    [[nodiscard]] std::size_t first_end() const { return first_; }
    [[nodiscard]] std::size_t past_end() const { return std::min(past_, to_.size() - 1); }
    /// No end in front of the face has more starts than this.
    [[nodiscard]] std::size_t most_starts() const { return most_starts_; }
    /// No slab in front of the face has fewer cells than this, those of loose meat from the first start left out.
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
        weight_limits within(front, back, least, most, 0, to_.size() - 1);
        return narrowed([&](std::size_t to, const slab_starts& /*all*/) { return within.of(to); });
    }

private:
    /// Two pointers that move on with the ends of slabs: the first starts that are not too heavy, and too light. What weighs
    /// nothing ends the way of both at the end of the slab, unless it may weigh that: then none is too light.
    struct weight_limits {
        const std::int64_t *front, *back;
        std::int64_t least, most;
        std::size_t heavy, light;

        weight_limits(const std::int64_t* in_front, const std::int64_t* behind, std::int64_t lightest,
                      std::int64_t heaviest, std::size_t start, std::size_t cells)
            : front(in_front), back(behind), least(heaviest < 0 ? no_limit : std::max(lightest, std::int64_t{1})),
              most(std::max(heaviest, std::int64_t{0})), heavy(start),
              light(heaviest < 0 || lightest > 0 ? start : cells) {}

        [[nodiscard]] slab_starts of(std::size_t to) {
            const std::int64_t too_heavy = back[to] - most, too_light = back[to] - least;
            std::size_t h = heavy, l = light;
            while (front[h] < too_heavy) ++h;
            while (front[l] <= too_light) ++l;
            heavy = h;
            light = l;
            return {static_cast<std::uint32_t>(h), static_cast<std::uint32_t>(l)};
        }
    };
    /// From the first start of a residue class on.
    [[nodiscard]] slab_starts notched(slab_starts all, std::size_t one_of_class) const {
        if (stride_ > 1)
            all.first += static_cast<std::uint32_t>((one_of_class % stride_ + stride_ - all.first % stride_) % stride_);
        return all;
    }

    /// What has to lie in front of the start of a slab with so much in front of its end is no more than this.
    [[nodiscard]] static std::int64_t lightest_front(const option_window& w, std::int64_t back) {
        return w.least_weight > 0 ? back - w.least_weight : no_limit;
    }
    /// Of the starts [first, past) those with no less than `least` in front of them and no more than `most`.
    [[nodiscard]] static slab_starts starts_within(std::size_t first, std::size_t past, const std::int64_t* front,
                                                   std::int64_t least, std::int64_t most) {
        const std::int64_t* const from = std::lower_bound(front + first, front + past, least);
        const std::int64_t* const behind = std::upper_bound(from, front + past, most);
        return {static_cast<std::uint32_t>(from - front), static_cast<std::uint32_t>(behind - front)};
    }

    /// The starts of all ends in front of the sirloin face, notches left out. Where weights and thicknesses change slowly both
    /// limits keep their distance from the end over many ends; whether they do is looked at for several at a time.
    void fill_portions(const option_window& w, std::size_t first_from, const std::int64_t* front,
                       const std::int64_t* back) {
        slab_starts* const starts = to_.data();
        const std::size_t least_cells = std::max(w.least_cells, std::size_t{1}), most_cells = w.most_cells,
                          past_to = std::min(w.past_to, to_.size() - 1), past_from = std::min(w.past_from, past_to);
        std::size_t first = first_from, past = first_from;
        for (std::size_t to = first_from + least_cells; to < past_to && least_cells <= most_cells;) {
            const std::int64_t least = back[to] - w.most_weight, most = lightest_front(w, back[to]);
            first = std::max(first, to - std::min(to, most_cells));
            if (first >= past_from) break; // and so for all that end behind
            const std::size_t thin = to + 1 - least_cells, behind = std::min(thin, past_from);
            while (front[first] < least) ++first;
            while (past < behind && front[past] <= most) ++past;
            starts[to] = {static_cast<std::uint32_t>(first), static_cast<std::uint32_t>(past)};
            std::size_t end = to + 1;
            if (behind == thin) { // the last starts move on too
                const run_of_ends run{front, back, w, to - first, to - past};
                end = run.end(end, std::min(past_to, past_from + least_cells));
                const auto more_first = static_cast<std::uint32_t>(run.to_first),
                           more_past = static_cast<std::uint32_t>(run.to_past);
                for (auto i = static_cast<std::uint32_t>(to) + 1; i < static_cast<std::uint32_t>(end); ++i)
                    starts[i] = {i - more_first, i - more_past};
                first += end - to - 1;
                past += end - to - 1;
            }
            note(to, end, {static_cast<std::uint32_t>(first), static_cast<std::uint32_t>(past)});
            to = end;
        }
    }

    /// Ends one behind the other of which the first start lies so many positions in front, and that past the last so many.
    struct run_of_ends {
        const std::int64_t *front, *back;
        const option_window& w;
        std::size_t to_first, to_past;

        /// The first end from `to` on, below `past`, for which that is not so.
        [[nodiscard]] std::size_t end(std::size_t to, std::size_t past) const {
            constexpr std::size_t at_once = 8;
            const bool thickest = to_first == w.most_cells,
                       thinnest = to_past + 1 == std::max(w.least_cells, std::size_t{1});
            const std::int64_t most = w.most_weight, least = w.least_weight > 0 ? w.least_weight : -no_limit;
            if (thickest && thinnest && most == no_limit && least == -no_limit)
                return std::max(to, past); // of any weight
            const std::int64_t *const whole = back + to, *const first = front + (to - to_first),
                                      *const behind = front + (to - to_past);
            /// Signs: of what must not be below zero, and of what has to be unless a thickness is the limit.
            struct signs {
                std::int64_t wrong = 0, too_thick = -1, too_thin = -1;
            };
            const auto look = [&](std::size_t i, signs& s) {
                const std::int64_t lightest = whole[i] - most, heaviest = whole[i] - least; // in front of a start
                s.wrong |= (first[i] - lightest) | (heaviest - behind[i - 1]);
                s.too_thick &= first[i - 1] - lightest;
                s.too_thin &= heaviest - behind[i];
            };
            const auto so = [&](const signs& s) {
                return s.wrong >= 0 && (thickest || s.too_thick < 0) && (thinnest || s.too_thin < 0);
            };
            const std::size_t count = past - std::min(to, past);
            std::size_t i = 0;
            for (bool all = true; all && i + at_once <= count; i += all ? at_once : 0) {
                signs some;
                for (std::size_t k = 0; k < at_once; ++k) look(i + k, some);
                all = so(some);
            }
            for (; i < count; ++i) {
                signs one;
                look(i, one);
                if (!so(one)) break;
            }
            return to + i;
        }
    };

    /// Says of the ends [to, end), whose last one has these starts, that none of them has more, or one nearer to its end.
    void note(std::size_t to, std::size_t end, const slab_starts& starts) {
        if (starts.empty()) return;
        if (past_ == 0) first_ = to;
        past_ = end;
        if (to + 1 == to_.size()) return;
        most_starts_ = std::max(most_starts_, std::size_t{starts.past} - starts.first);
        least_cells_ = std::min(least_cells_, end - starts.past);
    }

    slab_lane(std::size_t option, std::size_t stride, std::size_t cells, std::vector<slab_starts> room = {})
        : option_(option), stride_(stride), to_(std::move(room)) {
        to_.assign(cells + 1, {});
    }

    void note_reach() {
        const std::size_t end = to_.size() - 1;
        first_ = past_ = 0;
        while (first_ <= end && to_[first_].empty()) ++first_;
        if (first_ > end) { // notches may have left nothing
            first_ = 0;
            return;
        }
        past_ = end + 1;
        while (to_[past_ - 1].empty()) --past_;
        std::int32_t most = 0, least = std::numeric_limits<std::int32_t>::max();
        const slab_starts* const starts = to_.data();
        const auto first = static_cast<std::int32_t>(first_), last = static_cast<std::int32_t>(std::min(past_, end));
        for (std::int32_t to = first; to < last; ++to) { // several at a time
            const auto behind = static_cast<std::int32_t>(starts[to].past);
            most = greater(most, behind - static_cast<std::int32_t>(starts[to].first));
            least = lesser(least, to + 1 - behind);
        }
        most_starts_ = std::max(most_starts_, static_cast<std::size_t>(most));
        if (most > 0) least_cells_ = std::min(least_cells_, static_cast<std::size_t>(least));
    }

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
