// The layers of a loin along a grid: a thickness a cell, and where the spreads of its two ends lie among a few.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include <tranche/loin/face.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// A place among a few spreads, so far on the way from one to the next: at 3.25 three quarters of the fourth and a quarter of the
/// fifth. Mixtures of spreads that never fall never fall.
struct place_among_spreads {
    std::size_t knot = 0;
    double part = 0.0;

    explicit place_among_spreads(double place)
        : knot(static_cast<std::size_t>(place)), part(place - static_cast<double>(knot)) {}
    /// Entry `k` of the spread there.
    [[nodiscard]] double entry(const std::vector<layer_spread>& knots, std::size_t k) const {
        const double first = knots[knot][k];
        return part == 0.0 ? first : mixed_share(part, first, knots[knot + 1][k]);
    }
    /// A layer of that spread; of even thickness where there is none.
    [[nodiscard]] layer of(const std::vector<layer_spread>& knots, length thickness) const {
        layer result{thickness};
        if (!(thickness > length{})) return result;
        for (std::size_t k = 0; k < result.spread.size(); ++k) result.spread[k] = entry(knots, k);
        return result;
    }
};

/// Where the spreads of both ends of a layer lie among the knots, 0 to the last.
struct spread_places {
    double chine = 0.0, flank = 0.0;

    friend bool operator==(const spread_places&, const spread_places&) = default;
};

/// One layer a cell. Its spread is the mean of those of its ends, each a mixture of two neighbours among a few knots; a part of
/// it may taper. Where all layers are of even thickness, they are kept as a thickness alone.
class layer_column {
public:
    /// Before the first layer: the knots among which places are given. Without them layers are even, or added as such.
    void use(std::vector<layer_spread> knots) { knots_ = std::move(knots); }
    /// Layers, their thicknesses in metres, and the places among the knots; no places where there are none.
    void append(std::span<const double> thicknesses, std::span<const spread_places> places) {
        thicknesses_.insert(thicknesses_.end(), thicknesses.begin(), thicknesses.end());
        places_.insert(places_.end(), places.begin(), places.end());
    }
    /// Layers a part of which tapers; the rest is spread as the first knot says.
    void append(std::span<const double> thicknesses, std::span<const layer_taper> tapers) {
        thicknesses_.insert(thicknesses_.end(), thicknesses.begin(), thicknesses.end());
        places_.resize(thicknesses_.size());
        tapers_.insert(tapers_.end(), tapers.begin(), tapers.end());
    }
    /// A layer that is as `layer_spread` says but for rounding, which is taken out of it.
    void push_back(const layer& l) {
        const bool tapers = l.thickness > length{} && l.taper.share > 0.0;
        const bool as_even = !tapers && (!(l.thickness > length{}) || l.spread == even_spread);
        if (knots_.empty() && !as_even) {
            knots_.push_back(even_spread);
            places_.assign(thicknesses_.size(), {});
        }
        thicknesses_.push_back(l.thickness.value());
        if (knots_.empty()) return;
        if (tapers || !tapers_.empty()) {
            tapers_.resize(thicknesses_.size());
            if (tapers) tapers_.back() = l.taper;
        }
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
    /// Puts in place of layer `i` another one.
    void replace(std::size_t i, std::size_t by) {
        thicknesses_[i] = thicknesses_[by];
        if (!even()) places_[i] = places_[by];
        if (!tapers_.empty()) tapers_[i] = tapers_[by];
    }
    /// The same layers, each as often in a row as `times(i)` says.
    template <class Times>
    [[nodiscard]] layer_column repeated(const Times& times) const {
        layer_column result;
        result.use(knots_);
        for (std::size_t i = 0; i < thicknesses_.size(); ++i) {
            result.thicknesses_.insert(result.thicknesses_.end(), times(i), thicknesses_[i]);
            if (!even()) result.places_.insert(result.places_.end(), times(i), places_[i]);
            if (!tapers_.empty()) result.tapers_.insert(result.tapers_.end(), times(i), tapers_[i]);
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
        if (!tapers_.empty()) result.taper = tapers_[i];
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
                const fraction spread = spread_within(i, depth);
                return tapers_.empty() ? spread : with_taper(tapers_[i], spread, depth);
            }
        return depth;
    }
    /// What `layer::growth` says of `at(i)`.
    [[nodiscard]] double growth(std::size_t i, length reach) const {
        if (even()) return layer{thickness(i)}.growth(reach);
        const double spread = growth_of(entries_of(i), reach, thickness(i));
        return tapers_.empty() ? spread : growth_with_taper(tapers_[i], spread, reach, thickness(i));
    }

    /// The same layers, however they are kept.
    friend bool operator==(const layer_column& a, const layer_column& b) {
        if (a.thicknesses_ != b.thicknesses_) return false;
        if (a.places_ == b.places_ && a.knots_ == b.knots_ && a.tapers_ == b.tapers_) return true;
        for (std::size_t i = 0; i < a.size(); ++i)
            if (a.at(i) != b.at(i)) return false;
        return true;
    }

private:
    /// The entries of one layer's spread.
    struct mean_of_ends {
        const std::vector<layer_spread>& knots;
        place_among_spreads chine, flank;

        [[nodiscard]] double operator()(std::size_t k) const {
            return 0.5 * (chine.entry(knots, k) + flank.entry(knots, k));
        }
    };
    /// What does not taper of layer `i` within a depth.
    [[nodiscard]] fraction spread_within(std::size_t i, double depth) const {
        const place_among_spreads chine(places_[i].chine);
        if (chine.part == 0.0 && places_[i].chine == places_[i].flank) return share_within(knots_[chine.knot], depth);
        return share_on_line(entries_of(i), depth);
    }
    [[nodiscard]] mean_of_ends entries_of(std::size_t i) const {
        return {knots_, place_among_spreads(places_[i].chine), place_among_spreads(places_[i].flank)};
    }

    std::vector<double> thicknesses_;   // metres
    std::vector<spread_places> places_; // beside them, or none where all are even
    std::vector<layer_taper> tapers_;   // beside them, or none where nothing tapers
    std::vector<layer_spread> knots_;
};

} // namespace tranche::detail
