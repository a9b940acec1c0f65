// Loins like one that is tabulated, in any number: its table stretched, without reading a face again.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/loin_factors.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/column_arithmetic.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// How far what gives way may give: a width or fill outside of these factors belongs to no such loin. 0.75 to 1.33 is what
/// `typical_loin` allows its width; common practice, no source.
inline constexpr quantity_range<double> usual_give{0.75, 1.33};

/// A loin of whatever model, as a table to be stretched: the profile of a loin that is `by` times as long, wide, deep ... as the one
/// that was tabulated. With L, W, D, C, T and F the factors of length, width, depth, cover, tail and fill (`loin_factors`), the mass
/// of each tissue between two positions grows by
///
///     eye, gluteus medius, connective: L W D F    fat cover: L W C F    tail: L W D T
///
/// covers get C times as thick and tails W T times as long. The positions move apart with the length: a step of 0.5 mm becomes
/// one of 0.5 L mm, to 1/16 um, so lengths are exact to a part in 16,000 at that step. The second muscle's share of the lean at a
/// place is its factor times that of the old loin at the place which lies as far between onset and sirloin face.
///
/// Holds the table and room for one more: a call allocates nothing, and takes O(cells), some tens of nanoseconds for ten cells.
/// The result is valid until the next call. Not to be shared by threads; copies are independent.
class varied_profiles {
public:
    explicit varied_profiles(profile base) : base_(std::move(base)), varied_(base_) {
        const std::span<const double> entered = base_.gluteus_medius_entered();
        const auto there = std::find_if(entered.begin(), entered.end(), [](double share) { return share > 0.0; });
        if (there == entered.end()) return;
        most_share_ = *std::max_element(entered.begin(), entered.end());
        const auto first = static_cast<std::size_t>(there - entered.begin());
        onset_ = static_cast<double>(first);
        // It sets in somewhere between two positions: where the line through the next two says.
        if (first > 0 && first + 1 < entered.size() && entered[first + 1] > entered[first])
            onset_ -= std::min(1.0, entered[first] / (entered[first + 1] - entered[first]));
        else if (first > 0)
            onset_ -= 1.0;
    }

    [[nodiscard]] const profile& base() const { return base_; }
    /// The profile that was made last; at first the one that stands for all.
    [[nodiscard]] const profile& last() const { return varied_; }

    /// Why there is no such loin, or nothing if there is.
    [[nodiscard]] std::optional<impossible_loin> why_not(const loin_factors& by) const {
        const auto positive = [](double factor) { return factor > 0.0 && std::isfinite(factor); };
        const auto some = [](double factor) { return factor >= 0.0 && std::isfinite(factor); };
        if (!positive(by.length) || !(step_in_grains(by.length) >= 1.0) ||
            !(by.length * base_.extent() < detail::largest_loin))
            return impossible_loin::loin_length;
        if (!positive(by.width)) return impossible_loin::width;
        if (!positive(by.depth)) return impossible_loin::depth;
        if (!some(by.fat_cover)) return impossible_loin::fat_cover;
        if (!some(by.tail)) return impossible_loin::tail;
        if (!positive(by.fill)) return impossible_loin::fill;
        if (!some(by.gluteus_medius_onset) ||
            (most_share_ > 0.0 && !(onset_ * by.gluteus_medius_onset < static_cast<double>(base_.cells()))))
            return impossible_loin::gluteus_medius_onset;
        if (!some(by.gluteus_medius_share) || most_share_ * by.gluteus_medius_share > 1.0)
            return impossible_loin::gluteus_medius_share;
        return std::nullopt;
    }

    /// What a loin of these factors weighs, before it is rounded to micrograms; the factors are not checked. O(1).
    [[nodiscard]] mass mass_of(const loin_factors& by) const {
        const by_tissue<double> factors = factors_of_mass(by);
        double sum = 0.0;
        for (const tissue t : all_tissues)
            sum += detail::unfused(factors[t] * static_cast<double>(base_.total(t).count));
        return mass::from_value(1e-9 * sum);
    }

    /// The factors with which it weighs `weight` (above zero): width or fill are those of `by` times what it takes. Where there is no
    /// such loin, or what gives way leaves `usual_give`, nothing, and `why` says why. O(1).
    [[nodiscard]] std::optional<loin_factors> to_weight(loin_factors by, mass weight, gives_way way,
                                                        impossible_loin& why) const {
        if (!(weight > mass{}) || !std::isfinite(weight.value())) return because(impossible_loin::weight, why);
        if (const auto not_possible = why_not(by)) return because(*not_possible, why);
        const double all = mass_of(by).value();
        if (way == gives_way::width) {
            by.width *= weight.value() / all;
            if (!(usual_give.min <= by.width && by.width <= usual_give.max))
                return because(impossible_loin::width, why);
            return by;
        }
        const double tail = 1e-9 * detail::unfused(factors_of_mass(by)[tissue::tail] *
                                                   static_cast<double>(base_.total(tissue::tail).count));
        by.fill *= (weight.value() - tail) / (all - tail);
        if (!(usual_give.min <= by.fill && by.fill <= usual_give.max)) return because(impossible_loin::fill, why);
        return by;
    }

    /// The profile of a loin of these factors; of `weight`, to the microgram, if that is given (factors as `to_weight` says leave
    /// it less than a part in 10^9 to close). Throws `invalid_input` for factors of which `why_not` says why there is no such
    /// loin, and for a weight that is not above zero.
    const profile& vary(const loin_factors& by, std::optional<mass> weight = {}) {
        if (const auto not_possible = why_not(by))
            throw invalid_input("factors", std::string(name_of(*not_possible)), "those of a loin that can be");
        if (weight) detail::require_positive(*weight, "weight");
        const double step = step_in_grains(by.length);
        stretch_places(step);
        loin_factors as_long = by;
        as_long.length = step / detail::step_in_grains(base_.step());
        by_tissue<double> factors = factors_of_mass(as_long);
        varied_.unrounded_total_ = base_.unrounded_total_ * double(mass_of(as_long) / mass_of({}));
        if (weight) {
            const double close = *weight / varied_.unrounded_total_;
            for (double& factor : factors.values) factor *= close;
            varied_.unrounded_total_ = to_mass(to_micrograms(*weight));
        }
        (void)to_micrograms(varied_.unrounded_total_, "mass of the loin");
        const bool other_muscle =
            most_share_ > 0.0 && (by.gluteus_medius_onset != 1.0 || by.gluteus_medius_share != 1.0);
        for (const tissue t : all_tissues) scale(t, factors[t]);
        if (other_muscle)
            part_lean(by, factors[tissue::eye]);
        else if (most_share_ > 0.0)
            varied_.gluteus_medius_shares_ = base_.gluteus_medius_shares_;
        if (most_share_ > 0.0) {
            varied_.gluteus_medius_entered_.clear();
            varied_.let_enter();
        }
        add_up();
        varied_.close_total();
        varied_.fat_covers_.scale(base_.fat_covers_, by.fat_cover);
        varied_.tails_.scale(base_.tails_, by.width * by.tail);
        stretch_outlines(by);
        return varied_;
    }

private:
    [[nodiscard]] static std::optional<loin_factors> because(impossible_loin reason, impossible_loin& why) {
        why = reason;
        return std::nullopt;
    }
    [[nodiscard]] double step_in_grains(double longer) const {
        return detail::nearest_whole(longer * detail::step_in_grains(base_.step()));
    }
    [[nodiscard]] static by_tissue<double> factors_of_mass(const loin_factors& by) {
        const double lean = by.length * by.width * by.depth * by.fill;
        by_tissue<double> factors{{lean, lean, lean, lean, lean}};
        factors[tissue::fat_cover] = by.length * by.width * by.fat_cover * by.fill;
        factors[tissue::tail] = by.length * by.width * by.depth * by.tail;
        return factors;
    }

    void stretch_places(double step) {
        const std::size_t cells = base_.cells();
        const double before = detail::step_in_grains(base_.step());
        const double last = detail::in_grains(base_.extent() - base_.position(cells - 1));
        varied_.step_ = length::from_value(step / detail::grains_in_a_metre);
        const double all =
            static_cast<double>(cells - 1) * step + std::max(1.0, detail::nearest_whole(last * (step / before)));
        varied_.extent_ = length::from_value(all / detail::grains_in_a_metre);
    }
    void scale(tissue t, double factor) {
        const std::int64_t* const from = base_.cumulative_[t].data();
        std::int64_t* const to = varied_.cumulative_[t].data();
        const std::size_t positions = base_.total_.size();
        if (from[positions - 1] == 0) return; // nor is there any in the copy
        if (static_cast<double>(from[positions - 1]) * std::max(1.0, factor) <
            static_cast<double>(detail::most_whole_double))
            for (std::size_t i = 0; i < positions; ++i)
                to[i] = detail::nearest_whole_of(detail::unfused(factor * detail::whole_as_double(from[i])));
        else
            for (std::size_t i = 0; i < positions; ++i)
                to[i] = std::llround(detail::unfused(factor * static_cast<double>(from[i])));
    }
    /// The second muscle's share of the old loin at a place between positions.
    [[nodiscard]] double share_at(double place) const {
        const std::vector<double>& shares = base_.gluteus_medius_shares_;
        const auto cell = std::min(static_cast<std::size_t>(place), shares.size() - 2);
        return detail::mixed_share(place - static_cast<double>(cell), shares[cell], shares[cell + 1]);
    }
    /// Parts the lean, whose masses grow by `factor`, anew between eye and gluteus medius.
    void part_lean(const loin_factors& by, double factor) {
        const std::size_t cells = base_.cells();
        const auto end = static_cast<double>(cells);
        const double onset = onset_ * by.gluteus_medius_onset, stretch = (end - onset_) / (end - onset);
        std::vector<double>& shares = varied_.gluteus_medius_shares_;
        const auto first = std::min(static_cast<std::size_t>(onset), cells);
        std::fill_n(shares.begin(), first + 1, 0.0);
        for (std::size_t i = first; i <= cells; ++i) {
            const double behind = static_cast<double>(i) - onset;
            const double share = behind < 0.0 ? 0.0 : share_at(std::min(end, onset_ + behind * stretch));
            shares[i] = detail::snapped_share(std::min(1.0, by.gluteus_medius_share * share));
        }
        std::vector<std::int64_t>&eye = varied_.cumulative_[tissue::eye],
        &other_muscle = varied_.cumulative_[tissue::gluteus_medius];
        const auto lean = [&](std::size_t i) {
            return static_cast<double>(base_.cumulative_[tissue::eye][i] +
                                       base_.cumulative_[tissue::gluteus_medius][i]);
        };
        std::int64_t eye_before = 0, second_before = 0, lean_before = 0;
        for (std::size_t i = 1; i <= cells; ++i) {
            const std::int64_t all = std::llround(detail::unfused(factor * lean(i)));
            const double share = 0.5 * (shares[i - 1] + shares[i]);
            const std::int64_t cell = all - lean_before;
            const std::int64_t other = share > 0.0 ? std::llround(share * static_cast<double>(cell)) : 0;
            other_muscle[i] = second_before += other;
            eye[i] = eye_before += cell - other;
            lean_before = all;
        }
    }
    void add_up() {
        const std::size_t positions = varied_.total_.size();
        std::int64_t* const total = varied_.total_.data();
        by_tissue<const std::int64_t*> columns;
        for (const tissue t : all_tissues) columns[t] = varied_.cumulative_[t].data();
        for (std::size_t i = 0; i < positions; ++i) {
            std::int64_t sum = 0;
            for (const std::int64_t* const column : columns.values) sum += column[i];
            total[i] = sum;
        }
    }
    /// For pictures. The tail of a position is that of the cell behind it.
    void stretch_outlines(const loin_factors& by) {
        const std::size_t cells = base_.cells();
        const std::span<const double> covers = base_.fat_covers_.thicknesses(), tails = base_.tails_.thicknesses();
        for (std::size_t i = 0; i <= cells; ++i) {
            const std::size_t cell = std::min(i, cells - 1);
            varied_.widths_[i] = by.width * (base_.widths_[i] + detail::unfused((by.tail - 1.0) * tails[cell]));
            varied_.depths_[i] =
                by.depth * base_.depths_[i] + detail::unfused((by.fat_cover - by.depth) * covers[cell]);
        }
    }

    profile base_, varied_;
    double onset_ = 0.0, most_share_ = 0.0; ///< of gluteus medius, in steps from the rib face; its largest share
};

} // namespace tranche
