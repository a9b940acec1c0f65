// How much of the tail a trim leaves: the same length all along the loin, or one that tapers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <iosfwd>
#include <string>

#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// The length of tail that stays, from the edge of the eye: so much on the rib face, so much on the sirloin face, and in
/// between in a straight line along the loin. Made from one length it is that everywhere; by default all of the tail stays.
/// Lengths are zero or more, which `validate` of the trim checks, and read to 1/16 um.
///
///     trim_spec{.tail = 25_mm}
///     trim_spec{.tail = {3.0_in, 2.0_in}} // the most that USDA IMPS leaves on a strip loin (Fresh Beef, item 180)
class tail_limit {
public:
    constexpr tail_limit() = default;
    /// `everywhere` is zero or more, or unlimited; read to 1/16 um, not checked. Throws nothing.
    tail_limit(length everywhere) : tail_limit(everywhere, everywhere) {} // NOLINT(google-explicit-constructor)
    /// The same at either end.
    tail_limit(length at_rib, length at_sirloin)
        : rib_(detail::snapped(at_rib)), sirloin_(detail::snapped(at_sirloin)), far_rib_(rib_), far_sirloin_(sirloin_) {
    }

    /// In metres, zero or more or unlimited, on the rib face. Throws nothing.
    [[nodiscard]] constexpr length at_rib() const { return rib_; }
    /// In metres, zero or more or unlimited, on the sirloin face. Throws nothing.
    [[nodiscard]] constexpr length at_sirloin() const { return sirloin_; }
    /// Whether it is not the same all along. Throws nothing.
    [[nodiscard]] constexpr bool tapers() const {
        return !(rib_ == sirloin_ && rib_ == far_rib_ && rib_ == far_sirloin_);
    }
    /// On the face that lies `along` of the way from the rib face, 0, to the sirloin face, 1; to 1/16 um. Throws
    /// nothing. `along` is not checked.
    [[nodiscard]] length at(fraction along) const {
        if (!tapers()) return rib_;
        const auto line = [along](length from, length to) {
            return detail::snapped(detail::unfused((1.0 - along) * from) + detail::unfused(along * to));
        };
        return std::min(line(rib_, far_sirloin_), line(far_rib_, sirloin_));
    }

    /// The larger of both ends, in metres, zero or more or unlimited. Throws nothing.
    [[nodiscard]] length longer_end() const { return std::max(rib_, sirloin_); }
    /// With so much at its longer end, and at the other one as much more or less than now as there; nothing below zero.
    /// `to` is zero or more, in metres; not checked. Throws nothing.
    [[nodiscard]] tail_limit with_longer_end(length to) const {
        if (!tapers()) return to;
        const length more = to - longer_end();
        return {std::max(length{}, length(rib_ + more)), std::max(length{}, length(sirloin_ + more))};
    }

    /// Of two limits, neither of which is made by this function, the shorter one at every place: a straight line, or
    /// two where they cross. Throws nothing. In metres.
    [[nodiscard]] friend tail_limit shorter(const tail_limit& a, const tail_limit& b) {
        if (a.rib_ <= b.rib_ && a.sirloin_ <= b.sirloin_) return a;
        if (b.rib_ <= a.rib_ && b.sirloin_ <= a.sirloin_) return b;
        const tail_limit &front = a.rib_ < b.rib_ ? a : b, &behind = a.rib_ < b.rib_ ? b : a;
        tail_limit both(front.rib_, behind.sirloin_);
        both.far_rib_ = behind.rib_;
        both.far_sirloin_ = front.sirloin_;
        return both;
    }
    /// Throws `invalid_input`, with `field` in front, for an end that is below zero or no number, for a limit at one
    /// end only, and for one that is not straight (`shorter`). In metres; the last bits below 1/16 um do not count.
    friend void validate(const tail_limit& limit, const std::string& field) {
        const bool at_rib = limit.rib_ < unlimited<length>(), at_sirloin = limit.sirloin_ < unlimited<length>();
        if (!(limit.rib_ >= length{})) throw invalid_input(field, limit.rib_, "zero or more");
        if (!(limit.sirloin_ >= length{}))
            throw invalid_input(field, limit.sirloin_, "zero or more, at the sirloin end too");
        if (at_rib != at_sirloin)
            throw invalid_input(field, at_rib ? "no limit at the sirloin end" : "no limit at the rib end",
                                "one, as there is at the other end");
        if (limit.far_rib_ != limit.rib_ || limit.far_sirloin_ != limit.sirloin_)
            throw invalid_input(field, "the shorter of two limits that cross", "one straight line");
    }

    friend bool operator==(const tail_limit&, const tail_limit&) = default;
    /// "25 mm", "76.2 mm to 50.8 mm".
    template <class Traits>
    friend std::basic_ostream<char, Traits>& operator<<(std::basic_ostream<char, Traits>& out, const tail_limit& l) {
        return l.tapers() ? out << l.rib_ << " to " << l.sirloin_ : out << l.rib_;
    }

private:
    length rib_ = unlimited<length>(), sirloin_ = unlimited<length>();
    // Where two limits cross, the line from the rib end runs to the far one here, and that to the sirloin end comes from here.
    length far_rib_ = unlimited<length>(), far_sirloin_ = unlimited<length>();
};

} // namespace tranche
