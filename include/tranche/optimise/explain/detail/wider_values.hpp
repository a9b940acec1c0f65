// How far a single limit of a request can be widened: its values on whole steps, nearest first.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <type_traits>
#include <variant>

#include <tranche/cut/tail_limit.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/explain/request_limit.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche::detail {

/// A value in metres, kilograms, shares or pieces; 1 for what is asked for.
template <class = when_called>
[[nodiscard]] double raw_number(const limit_value& value) {
    const auto raw = [](const auto& v) {
        if constexpr (std::is_arithmetic_v<std::decay_t<decltype(v)>>)
            return static_cast<double>(v);
        else
            return v.value();
    };
    return std::visit(raw, value);
}

/// The thickest fat cover or the longest tail of a loin: a trim that leaves as much takes nothing off. Of a limit that tapers,
/// its longer end where the shorter one leaves as much.
template <class = when_called>
[[nodiscard]] length most_to_trim(const profile& meat, const cutting_request& request, const request_limit& limit) {
    const bool fat = limit.what == request_limit::kind::fat_left || limit.what == request_limit::kind::whole_fat_left;
    length most{};
    for (std::size_t i = 0; i < meat.cells(); ++i)
        most = std::max(most, fat ? meat.fat_cover(i).thickness : meat.tail(i).thickness);
    const tail_limit tail = tail_of(request, limit);
    if (!tail.tapers()) return most; // without an end, perhaps
    return most + (tail.longer_end() - std::min(tail.at_rib(), tail.at_sirloin()));
}

/// Values of one limit that are wider than what it is, on whole steps, nearest first; `count` of them. Of a trim: values
/// that leave more, or those that leave less.
template <class = when_called>
class wider_values {
public:
    enum class way { wider, more_left = wider, less_left };

    wider_values(const profile& meat, const cutting_request& request, const request_limit& limit,
                 const limit_steps& steps, way trim = way::more_left)
        : kind_(value_of(request, limit)) {
        using kind = request_limit::kind;
        if (std::holds_alternative<length>(kind_)) unit_ = grains_in_a_metre, step_ = steps.thickness.value();
        if (std::holds_alternative<mass>(kind_)) unit_ = micrograms_in_a_kilogram, step_ = steps.portion.value();
        if (std::holds_alternative<fraction>(kind_)) unit_ = grains_in_a_whole, step_ = steps.share;
        step_ = std::max(1.0, in_units(step_));
        widest_ = now_ = in_units(raw_number(kind_));
        switch (limit.what) {
        case kind::zone_to:
        case kind::loose_zone_to:
        case kind::thickness_max: widest_ = in_units(meat.extent().value()); break;
        case kind::portion_max: widest_ = in_units(to_mass(meat.total()).value()); break;
        case kind::gluteus_medius_towards_rib:
        case kind::gluteus_medius_towards_sirloin: widest_ = in_units(1.0); break;
        case kind::at_most:
            widest_ = request.cuts[spec_of(request.demands[limit.index], request.cuts)].pieces *
                      static_cast<double>(meat.cells());
            break;
        case kind::thickness_min: // above zero
        case kind::portion_min:
        case kind::kerf:
        case kind::zone_from:
        case kind::loose_zone_from:
        case kind::facing:
        case kind::remnant_thickness:
        case kind::remnant_weight:
        case kind::loose_thickness:
        case kind::at_least:
            upwards_ = false;
            positive_ = limit.what == kind::thickness_min;
            widest_ = 0.0;
            break;
        case kind::fat_left:
        case kind::tail_left:
        case kind::whole_fat_left:
        case kind::whole_tail_left:
            upwards_ = trim == way::more_left;
            widest_ = in_units(most_to_trim(meat, request, limit).value());
            now_ = std::min(now_, widest_);
            if (!upwards_) widest_ = 0.0;
            break;
        case kind::thickness_step:
        case kind::one_thickness:
        case kind::order:
        case kind::remnant_required:
        case kind::loose_place:
            upwards_ = false;
            step_ = now_; // to none at once
            widest_ = 0.0;
            break;
        case kind::pieces: break; // neither way is wider
        }
        open_ = upwards_ ? now_ < widest_ : now_ > widest_;
        if (!open_) return; // and no step to divide by, where it is what it is now, which may be nothing
        first_ = upwards_ ? std::floor(now_ / step_) + 1.0 : std::ceil(now_ / step_) - 1.0;
        last_ = upwards_ ? std::ceil(widest_ / step_) : positive_ ? 1.0 : 0.0;
    }

    /// Of a trim that leaves more than there is: what there is.
    [[nodiscard]] double now() const { return now_ / unit_; }
    [[nodiscard]] std::int64_t count() const {
        const double further = upwards_ ? last_ - first_ : first_ - last_;
        return open_ && further >= 0.0 ? static_cast<std::int64_t>(std::min(further, 1e15)) + 1 : 0;
    }
    [[nodiscard]] limit_value operator[](std::int64_t i) const {
        return as_limit((first_ + (upwards_ ? 1.0 : -1.0) * static_cast<double>(i)) * step_);
    }
    /// The value one step from what it is, or as far as it goes; none if it is as wide as can be.
    [[nodiscard]] std::optional<limit_value> one_step() const {
        if (!open_) return std::nullopt;
        if (upwards_) return as_limit(std::min(now_ + step_, widest_));
        return as_limit(std::max(now_ - step_, positive_ ? 0.5 * now_ : widest_));
    }

private:
    /// Whole grains, micrograms or pieces, so that what a conversion from other units costs decides nothing.
    [[nodiscard]] double in_units(double value) const { return nearest_whole(value * unit_); }
    [[nodiscard]] limit_value as_limit(double units) const {
        const double value = units / unit_;
        if (std::holds_alternative<length>(kind_)) return length::from_value(value);
        if (std::holds_alternative<mass>(kind_)) return mass::from_value(value);
        if (std::holds_alternative<fraction>(kind_)) return std::min(value, 1.0);
        if (std::holds_alternative<bool>(kind_)) return value > 0.5;
        return std::llround(value);
    }

    limit_value kind_;
    double unit_ = 1.0, now_ = 0.0, widest_ = 0.0, step_ = 1.0, first_ = 0.0, last_ = 0.0; // but the first, in units
    bool upwards_ = true, positive_ = false, open_ = false;                                // open: it can be wider
};

} // namespace tranche::detail
