// What the engine's loops are made of: the best way to a position, and the queue of starts that may still win.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <type_traits>
#include <vector>

#include <tranche/optimise/want/score.hpp>

namespace tranche::detail {

/// Whether a score that is not finite has to be noted beside the best one; a floating score notes it by being NaN.
template <class Score>
inline constexpr bool noted_apart = !always_finite<Score> && !std::is_floating_point_v<Score>;

struct no_note {};
struct not_finite_note {
    bool not_finite = false;
};

/// The best way to fill the loin up to a position: its score, and the last slab.
template <class Score>
struct best_so_far {
    Score score{};
    std::uint32_t from = 0, option = 0;
    [[no_unique_address]] std::conditional_t<noted_apart<Score>, not_finite_note, no_note> note{};

    static constexpr bool everywhere = true; ///< as loose meat leads to every position
    [[nodiscard]] explicit constexpr operator bool() const { return true; }

    /// The first candidate, whatever it is worth.
    void begin(const Score& value, std::size_t start, std::size_t with) {
        note = {};
        set(value, start, with);
        notice(value);
    }
    /// A further one takes the place only when it is better, so the one offered first wins ties.
    void offer(const Score& value, std::size_t start, std::size_t with) {
        notice(value);
        if (score < value) set(value, start, with);
    }
    /// One NaN or +infinity among the values looked at, and it stays noted: a plan must not hide it. What a score forbids is
    /// only never the best.
    void notice(const Score& value) {
        if constexpr (std::is_floating_point_v<Score>) {
            if (!(value < std::numeric_limits<Score>::infinity())) score = std::numeric_limits<Score>::quiet_NaN();
        } else if constexpr (noted_apart<Score>) {
            note.not_finite = note.not_finite || !(is_finite(value) || forbids(value));
        }
    }
    /// What another one has noticed counts here too; of floating scores it is in the values anyway.
    void notice(const best_so_far& other) {
        if constexpr (noted_apart<Score>) note.not_finite = note.not_finite || other.note.not_finite;
    }
    /// Whether all values looked at were finite, or forbade a slab.
    [[nodiscard]] bool usable() const {
        if constexpr (noted_apart<Score>)
            return !note.not_finite;
        else
            return is_finite(score) || forbids(score);
    }

private:
    void set(const Score& value, std::size_t start, std::size_t with) {
        score = value;
        from = static_cast<std::uint32_t>(start);
        option = static_cast<std::uint32_t>(with);
    }
};

/// The best way to reach a position in a state, if there is one.
template <class Score>
struct reached {
    static constexpr bool everywhere = false; ///< whether there is a way to every position
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
    /// What is not finite has been looked for before states are told apart.
    void notice(const Score& /*value*/) const {}
    void notice(const reached& /*other*/) const {}
};

/// Positions [first, past) at which slabs end. The engine goes from one such block to the next, and is short enough with
/// each that no slab lies inside of it: every option can look at a whole block before the next option does.
struct block {
    std::size_t first, past;
};

/// The starts of slabs of one option that may still win, best first: a monotone queue. As the end of the slab moves on,
/// starts enter at the back and expire at the front; one that is worse than a later one is dropped for good. A ring of
/// just the window's size, so that it stays in the nearest cache.
template <class Score>
class start_queue {
public:
    explicit start_queue(std::size_t most_starts) { restart(most_starts); }

    /// Empty again, with room for so many; what room there is already stays.
    void restart(std::size_t most_starts) {
        const std::size_t room = std::bit_ceil(most_starts + 1);
        if (entries_.size() < room) entries_.resize(room);
        mask_ = room - 1;
        head_ = past_ = 0;
    }

    void enter(std::size_t start, const Score& key) {
        while (past_ != head_ && entries_[(past_ - 1) & mask_].key < key) --past_;
        entries_[past_++ & mask_] = {key, start};
    }
    [[nodiscard]] bool empty() const { return head_ == past_; }
    [[nodiscard]] std::size_t start() const { return entries_[head_ & mask_].start; }
    /// Score of the loin in front of the start, plus the opening of a slab there.
    [[nodiscard]] const Score& key() const { return entries_[head_ & mask_].key; }
    void expire() { ++head_; }

private:
    struct entry {
        Score key{};
        std::size_t start = 0;
    };
    std::vector<entry> entries_;
    std::size_t mask_ = 0, head_ = 0, past_ = 0;
};

} // namespace tranche::detail
