// The layers of a loin along a grid: a thickness a cell, and where the spreads of its two ends lie among a few.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include <tranche/loin/face.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// Where the spreads of both ends of a layer lie among the knots, 0 to the last: at a place of 3.25 a spread is three
/// quarters of the fourth and a quarter of the fifth.
struct spread_places {
    double chine = 0.0, flank = 0.0;

    friend bool operator==(const spread_places&, const spread_places&) = default;
};

/// One layer a cell. Its spread is the mean of those of its ends, each a mixture of two neighbours among a few knots.
/// Mixtures of spreads that never fall never fall. Where all layers are of even thickness, they are kept as a thickness
/// alone.
class layer_column {
public:
    /// Before the first layer: the knots among which places are given. Without them layers are even, or added as such.
    void use(std::vector<layer_spread> knots) { knots_ = std::move(knots); }
    /// Layers, their thicknesses in metres, and the places among the knots; no places where there are none.
    void append(std::span<const double> thicknesses, std::span<const spread_places> places) {
        thicknesses_.insert(thicknesses_.end(), thicknesses.begin(), thicknesses.end());
        places_.insert(places_.end(), places.begin(), places.end());
    }
    /// A layer that is as `layer_spread` says but for rounding, which is taken out of it.
    void push_back(const layer& l) {
        const bool as_even = !(l.thickness > length{}) || l.spread == even_spread;
        if (knots_.empty() && !as_even) {
            knots_.push_back(even_spread);
            places_.assign(thicknesses_.size(), {});
        }
        thicknesses_.push_back(l.thickness.value());
        if (knots_.empty()) return;
        const layer_spread& given = as_even ? even_spread : l.spread;
        if (given != knots_.back()) {
            knots_.push_back(given);
            double before = 0.0;
            for (double& share : knots_.back()) share = before = std::clamp(share, before, 1.0);
            knots_.back().back() = 1.0;
        }
        const auto last = static_cast<double>(knots_.size() - 1);
        places_.push_back({last, last});
    }
    /// The same layers, each as often in a row as `times(i)` says.
    template <class Times>
    [[nodiscard]] layer_column repeated(const Times& times) const {
        layer_column result;
        result.use(knots_);
        for (std::size_t i = 0; i < thicknesses_.size(); ++i) {
            result.thicknesses_.insert(result.thicknesses_.end(), times(i), thicknesses_[i]);
            if (!even()) result.places_.insert(result.places_.end(), times(i), places_[i]);
        }
        return result;
    }

    [[nodiscard]] std::size_t size() const { return thicknesses_.size(); }
    [[nodiscard]] length thickness(std::size_t i) const { return length::from_value(thicknesses_[i]); }
    [[nodiscard]] layer at(std::size_t i) const {
        layer result{thickness(i)};
        if (even() || !(result.thickness > length{})) return result;
        const auto entry = entries_of(i);
        for (std::size_t k = 0; k < result.spread.size(); ++k) result.spread[k] = entry(k);
        return result;
    }
    [[nodiscard]] bool even() const { return knots_.empty(); }

    /// What `layer::within` says of `at(i)`. `Even` is known to the loops that run over all cells; it spares them the question.
    template <bool Even>
    [[nodiscard]] fraction within(std::size_t i, length reach) const {
        if (!(thicknesses_[i] > 0.0)) return 1.0;
        const double depth = share_of_depth(reach, thickness(i));
        if constexpr (!Even)
            if (!even()) {
                const place chine = place_of(places_[i].chine);
                if (chine.part == 0.0 && places_[i].chine == places_[i].flank)
                    return share_within(knots_[chine.knot], depth);
                return share_on_line(entries_of(i), depth);
            }
        return depth;
    }
    /// What `layer::growth` says of `at(i)`.
    [[nodiscard]] double growth(std::size_t i, length reach) const {
        if (even()) return layer{thickness(i)}.growth(reach);
        return growth_of(entries_of(i), reach, thickness(i));
    }

    /// The same layers, however they are kept.
    friend bool operator==(const layer_column& a, const layer_column& b) {
        if (a.thicknesses_ != b.thicknesses_) return false;
        if (a.places_ == b.places_ && a.knots_ == b.knots_) return true;
        for (std::size_t i = 0; i < a.size(); ++i)
            if (a.at(i) != b.at(i)) return false;
        return true;
    }

private:
    struct place {
        std::size_t knot;
        double part;
    };
    [[nodiscard]] static place place_of(double among) {
        const auto knot = static_cast<std::size_t>(among);
        return {knot, among - static_cast<double>(knot)};
    }
    /// The entries of one layer's spread.
    struct mean_of_ends {
        const std::vector<layer_spread>& knots;
        place chine, flank;

        [[nodiscard]] double operator()(std::size_t k) const { return 0.5 * (at(chine, k) + at(flank, k)); }
        [[nodiscard]] double at(place where, std::size_t k) const {
            const double first = knots[where.knot][k];
            return where.part == 0.0 ? first : mixed_share(where.part, first, knots[where.knot + 1][k]);
        }
    };
    [[nodiscard]] mean_of_ends entries_of(std::size_t i) const {
        return {knots_, place_of(places_[i].chine), place_of(places_[i].flank)};
    }

    std::vector<double> thicknesses_;   // metres
    std::vector<spread_places> places_; // beside them, or none where all are even
    std::vector<layer_spread> knots_;
};

} // namespace tranche::detail
