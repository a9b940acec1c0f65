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
/// that was tabulated, on the same grid. With L, W, D, C, T and F the factors of length, width, depth, cover, tail and fill
/// (`loin_factors`), what each tissue weighs between two places grows by
///
///     eye, gluteus medius, connective: L W D F    fat cover: L W C F    tail: L W D T
///
/// the places move apart by L, covers get C times as thick and tails W T times as long. The second muscle's share of the lean at a
/// place is its factor times that of the old loin at the place which lies as far between onset and sirloin face. Masses between
/// positions of the old grid lie on straight lines, as wherever the library looks inside a cell, and layers are those of the old
/// cell: both are of second order in its step.
///
/// Holds the table and room for one more: a call allocates nothing once it has made one as long, and takes O(cells). The result is
/// valid until the next call. Not to be shared by threads; copies are independent.
class varied_profiles {
public:
    explicit varied_profiles(profile base) : base_(std::move(base)), varied_(base_), masses_(base_.cells() + 1) {
        for (const tissue t : all_tissues)
            for (std::size_t i = 0; i < masses_.size(); ++i)
                masses_[i][t] = static_cast<double>(base_.cumulative_[t][i]);
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
        if (!positive(by.length) || !(by.length * base_.extent() < detail::largest_loin) ||
            !(extent_in_grains(by.length) >= 1.0) || !(cells_of(by.length) <= static_cast<double>(most_cells)))
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
    /// it less than a part in 10^6 to close). Throws `invalid_input` for factors of which `why_not` says why there is no such
    /// loin, and for a weight that is not above zero.
    const profile& vary(const loin_factors& by, std::optional<mass> weight = {}) {
        if (const auto not_possible = why_not(by))
            throw invalid_input("factors", std::string(name_of(*not_possible)), "those of a loin that can be");
        if (weight) detail::require_positive(*weight, "weight");
        find_places(by.length);
        loin_factors as_long = by;
        as_long.length = varied_.extent_ / base_.extent_;
        by_tissue<double> factors = factors_of_mass(as_long);
        varied_.unrounded_total_ = base_.unrounded_total_ * double(mass_of(as_long) / mass_of({}));
        if (weight) {
            const double close = *weight / mass_of(as_long);
            for (double& factor : factors.values) factor *= close;
            varied_.unrounded_total_ = to_mass(to_micrograms(*weight));
        }
        (void)to_micrograms(varied_.unrounded_total_, "mass of the loin");
        if (to_micrograms(varied_.unrounded_total_).count < detail::most_whole_double / 2)
            stretch(factors, [](double exact) { return detail::nearest_whole_of(exact); });
        else
            stretch(factors, [](double exact) { return static_cast<std::int64_t>(std::llround(exact)); });
        if (most_share_ > 0.0) {
            share_lean(by);
            if (by.gluteus_medius_onset != 1.0 || by.gluteus_medius_share != 1.0)
                part_lean(factors[tissue::eye], std::min(1.0, by.gluteus_medius_onset) * onset_);
            varied_.gluteus_medius_entered_.clear();
            varied_.let_enter();
        }
        varied_.close_total();
        varied_.fat_covers_.pick(base_.fat_covers_, old_cells_, by.fat_cover);
        varied_.tails_.pick(base_.tails_, old_cells_, by.width * by.tail);
        stretch_outlines(by);
        return varied_;
    }

private:
    [[nodiscard]] static std::optional<loin_factors> because(impossible_loin reason, impossible_loin& why) {
        why = reason;
        return std::nullopt;
    }
    [[nodiscard]] double extent_in_grains(double longer) const {
        return detail::nearest_whole(detail::unfused(longer * detail::in_grains(base_.extent())));
    }
    [[nodiscard]] double cells_of(double longer) const {
        return std::ceil(extent_in_grains(longer) / detail::step_in_grains(base_.step()));
    }
    [[nodiscard]] static by_tissue<double> factors_of_mass(const loin_factors& by) {
        const double lean = by.length * by.width * by.depth * by.fill;
        by_tissue<double> factors{{lean, lean, lean, lean, lean}};
        factors[tissue::fat_cover] = by.length * by.width * by.fat_cover * by.fill;
        factors[tissue::tail] = by.length * by.width * by.depth * by.tail;
        return factors;
    }

    /// Where on the old grid the positions and the middles of cells of the new one were, and room for them.
    void find_places(double longer) {
        const auto cells = static_cast<std::size_t>(cells_of(longer));
        if (extent_in_grains(longer) != detail::in_grains(base_.extent()))
            varied_.extent_ = length::from_value(extent_in_grains(longer) / detail::grains_in_a_metre);
        else
            varied_.extent_ = base_.extent_;
        if (cells + 1 != varied_.total_.size()) {
            varied_.total_.resize(cells + 1);
            for (auto& column : varied_.cumulative_.values) column.resize(cells + 1); // zeros, or written below
            for (auto* column : {&varied_.gluteus_medius_shares_, &varied_.widths_, &varied_.depths_})
                column->resize(cells + 1);
        }
        old_places_.resize(cells + 1);
        old_cells_.resize(cells);
        const double shorter = base_.extent_ / varied_.extent_, step = base_.step_.value();
        const double old_end = base_.extent_.value() / step, new_end = varied_.extent_.value() / step;
        const auto most = static_cast<double>(base_.cells()); // the last cell may be shorter
        const auto count = static_cast<std::int32_t>(cells);
        for (std::int32_t i = 0; i < count; ++i)
            old_places_[static_cast<std::size_t>(i)] = detail::lesser(detail::unfused(i * shorter), old_end);
        old_places_[cells] = old_end;
        for (std::int32_t i = 0; i < count; ++i) {
            const double middle = (i + 1 < count ? i + 0.5 : 0.5 * (i + new_end)) * shorter;
            old_cells_[static_cast<std::size_t>(i)] = static_cast<std::uint32_t>(detail::lesser(middle, most - 0.5));
        }
    }
    /// Calls f(i, cell, into) for each new position from `first` on: how far it lies in a cell of the old grid, 0 to 1.
    template <class F>
    void at_old_places(const F& f, std::size_t first = 0) const {
        const std::size_t last = base_.cells() - 1, positions = old_places_.size();
        const auto last_cell = static_cast<double>(last);
        const double last_width = base_.extent_.value() / base_.step_.value() - last_cell;
        std::size_t i = first;
        for (; i < positions && old_places_[i] < last_cell; ++i) {
            const auto cell = static_cast<std::int32_t>(old_places_[i]);
            f(i, static_cast<std::size_t>(cell), old_places_[i] - static_cast<double>(cell));
        }
        for (; i + 1 < positions; ++i) f(i, last, detail::lesser((old_places_[i] - last_cell) / last_width, 1.0));
        f(positions - 1, last, 1.0);
    }
    /// Masses in front of the new positions, all tissues at once, and their sums.
    template <class Whole>
    void stretch(const by_tissue<double>& factors, const Whole& whole) {
        by_tissue<std::int64_t*> columns;
        for (const tissue t : all_tissues) columns[t] = varied_.cumulative_[t].data();
        std::int64_t* const total = varied_.total_.data();
        at_old_places([&](std::size_t i, std::size_t cell, double into) {
            const by_tissue<double>&front = masses_[cell], &back = masses_[cell + 1];
            std::int64_t sum = 0;
            for (const tissue t : all_tissues) {
                const double mass_there = front[t] + detail::unfused(into * (back[t] - front[t]));
                sum += columns[t][i] = whole(detail::unfused(factors[t] * mass_there));
            }
            total[i] = sum;
        });
    }
    /// The second muscle's share of the old loin at a place between positions.
    [[nodiscard]] double share_at(double place) const {
        const std::vector<double>& shares = base_.gluteus_medius_shares_;
        const auto cell = std::min(static_cast<std::size_t>(place), shares.size() - 2);
        const double width = cell + 2 == shares.size() ? old_places_.back() - static_cast<double>(cell) : 1.0;
        return detail::mixed_share(std::min(1.0, (place - static_cast<double>(cell)) / width), shares[cell],
                                   shares[cell + 1]);
    }
    /// The second muscle's share of the lean at the new positions.
    void share_lean(const loin_factors& by) {
        const double end = old_places_.back();
        const double onset = onset_ * by.gluteus_medius_onset, stretch = (end - onset_) / (end - onset);
        std::vector<double>& shares = varied_.gluteus_medius_shares_;
        const auto first =
            std::min(static_cast<std::size_t>(std::max(0.0, onset) * (varied_.extent_ / base_.extent_)), shares.size());
        std::fill_n(shares.begin(), first, 0.0);
        for (std::size_t i = first; i < shares.size(); ++i) {
            const double behind = old_places_[i] - onset;
            const double place =
                by.gluteus_medius_onset == 1.0 ? old_places_[i] : onset_ + detail::unfused(behind * stretch);
            const double share =
                behind < 0.0 ? 0.0 : std::min(1.0, by.gluteus_medius_share * share_at(std::min(end, place)));
            shares[i] = detail::snapped_share(share);
        }
    }
    /// Parts the lean, whose masses grow by `factor`, anew between eye and gluteus medius, by the mean share of each cell; in front of
    /// `onset`, in steps of the old grid, there is none of it.
    void part_lean(double factor, double onset) {
        const std::vector<double>& shares = varied_.gluteus_medius_shares_;
        std::int64_t *const eye = varied_.cumulative_[tissue::eye].data(),
                            *const other = varied_.cumulative_[tissue::gluteus_medius].data();
        std::int64_t* const total = varied_.total_.data();
        const double longer = varied_.extent_ / base_.extent_;
        const std::size_t first =
            std::max(std::size_t{1}, static_cast<std::size_t>(std::max(0.0, onset - 1.0) * longer));
        std::int64_t before = eye[first - 1], other_before = 0;
        at_old_places(
            [&](std::size_t i, std::size_t cell, double into) {
                const double front = masses_[cell][tissue::eye] + masses_[cell][tissue::gluteus_medius],
                             back = masses_[cell + 1][tissue::eye] + masses_[cell + 1][tissue::gluteus_medius];
                const double exact = detail::unfused(factor * (front + detail::unfused(into * (back - front))));
                const auto all = static_cast<std::int64_t>(exact + 0.5);
                const double share = 0.5 * (shares[i - 1] + shares[i]);
                other_before += static_cast<std::int64_t>(share * static_cast<double>(all - before) + 0.5);
                before = all;
                total[i] += all - (eye[i] + other[i]);
                other[i] = other_before;
                eye[i] = all - other_before;
            },
            first);
    }
    /// For pictures. Cover and tail of a position are those of the old cell where it was.
    void stretch_outlines(const loin_factors& by) {
        const std::span<const double> covers = base_.fat_covers_.thicknesses(), tails = base_.tails_.thicknesses();
        const double longer = by.width * (by.tail - 1.0), thicker = by.fat_cover - by.depth;
        at_old_places([&](std::size_t i, std::size_t cell, double into) {
            varied_.widths_[i] = by.width * detail::mixed_share(into, base_.widths_[cell], base_.widths_[cell + 1]) +
                                 detail::unfused(longer * tails[cell]);
            varied_.depths_[i] = by.depth * detail::mixed_share(into, base_.depths_[cell], base_.depths_[cell + 1]) +
                                 detail::unfused(thicker * covers[cell]);
        });
    }

    profile base_, varied_;
    std::vector<by_tissue<double>> masses_{}; ///< in front of the old positions, micrograms
    double onset_ = 0.0, most_share_ = 0.0;   ///< of gluteus medius, in steps from the rib face; its largest share
    std::vector<double> old_places_{};        ///< of the new positions, in steps of the old grid
    std::vector<std::uint32_t> old_cells_{};  ///< of the middles of the new cells
};

} // namespace tranche
