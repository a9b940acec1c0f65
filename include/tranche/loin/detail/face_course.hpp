// Faces in between a few known ones: every area, size and share of a spread interpolated without overshoot.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <vector>

#include <tranche/loin/face.hpp>
#include <tranche/loin/tape/detail/monotone.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// What `monotone_interpolation` gives of each number of a face, with all slopes found once.
template <class = when_called>
class face_course {
public:
    face_course() = default;
    /// Through `faces`, one or more, at strictly rising at(i).
    template <class At>
    face_course(std::size_t count, At at, const std::vector<face>& faces) {
        const auto even = [&](layer face::*which) {
            return std::all_of(faces.begin(), faces.end(),
                               [&](const face& f) { return (f.*which).spread == even_spread; });
        };
        spread_fat_ = !even(&face::fat_cover), spread_tail_ = !even(&face::tail);
        for (std::size_t i = 0; i < count; ++i) {
            places_.push_back(at(i).value());
            const face& f = faces[i];
            for (const tissue t : all_tissues) values_.push_back(f.areas[t].value());
            for (const length& size : {f.width, f.depth, f.fat_cover.thickness, f.tail.thickness})
                values_.push_back(size.value());
            if (spread_fat_) values_.insert(values_.end(), f.fat_cover.spread.begin(), f.fat_cover.spread.end());
            if (spread_tail_) values_.insert(values_.end(), f.tail.spread.begin(), f.tail.spread.end());
        }
        numbers_ = values_.size() / count;
        if (count < 2) return;
        slopes_.resize(values_.size());
        const auto place = [&](std::size_t k) { return places_[k]; };
        for (std::size_t i = 0; i < count; ++i)
            for (std::size_t n = 0; n < numbers_; ++n)
                slopes_[i * numbers_ + n] = slope_at(
                    count, place, [&](std::size_t k) { return values_[k * numbers_ + n]; }, i);
    }

    [[nodiscard]] face at(length place) const {
        const double x = place.value();
        std::array<double, all_tissues.size() + 4 + 2 * even_spread.size()> y{};
        if (places_.size() == 1 || x <= places_.front()) {
            std::copy_n(values_.begin(), numbers_, y.begin());
        } else if (x >= places_.back()) {
            std::copy_n(values_.end() - static_cast<std::ptrdiff_t>(numbers_), numbers_, y.begin());
        } else {
            std::size_t k = 0;
            while (x >= places_[k + 1]) ++k;
            const double width = places_[k + 1] - places_[k], part = (x - places_[k]) / width;
            const double *v0 = &values_[k * numbers_], *v1 = v0 + numbers_, *m0 = &slopes_[k * numbers_],
                         *m1 = m0 + numbers_;
            for (std::size_t n = 0; n < numbers_; ++n) y[n] = monotone_cubic(width, v0[n], v1[n], m0[n], m1[n])(part);
        }
        face f;
        const double* number = y.data();
        for (const tissue t : all_tissues) f.areas[t] = area::from_value(*number++);
        for (length* size : {&f.width, &f.depth, &f.fat_cover.thickness, &f.tail.thickness})
            *size = length::from_value(*number++);
        // Each entry bends by itself, so one may come out a little below the one before it.
        const auto rise = [&](layer_spread& spread) {
            double before = 0.0;
            for (double& share : spread) share = before = std::max(before, *number++);
        };
        if (spread_fat_) rise(f.fat_cover.spread);
        if (spread_tail_) rise(f.tail.spread);
        return f;
    }

private:
    std::vector<double> places_, values_, slopes_; ///< of the faces; of all numbers, face by face
    std::size_t numbers_ = 0;                      ///< of one face
    bool spread_fat_ = false, spread_tail_ = false;
};

} // namespace tranche::detail
