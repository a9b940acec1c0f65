// The layers of a loin along a grid: a thickness a cell, and where the spreads of its two ends lie among a few.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <span>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/loin/face.hpp>
#include <tranche/units/detail/column_arithmetic.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/wide_columns.hpp>
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

/// One layer a cell. Its spread is the mean of those of its ends, each a mixture of two neighbours among a few knots; a part of
/// it may taper. What all layers have in common is not kept for each: layers of even thickness are a thickness alone.
class layer_column {
public:
    void reserve(std::size_t layers) { thicknesses_.reserve(layers); }
    /// Before the first layer: the knots among which places are given. Without them layers are even, or added as such.
    void use(std::vector<layer_spread> knots) { knots_ = std::move(knots); }
    /// Layers, their thicknesses in metres, and the places of their spreads among the knots; none where there are none.
    void append(std::span<const double> thicknesses, std::span<const double> places = {}) {
        thicknesses_.insert(thicknesses_.end(), thicknesses.begin(), thicknesses.end());
        missing_ = missing_ || some_missing(thicknesses);
        chines_.insert(chines_.end(), places.begin(), places.end());
    }
    /// A layer that is as `layer_spread` says but for rounding, which is taken out of it.
    void push_back(const layer& l) {
        const bool tapers = l.thickness > length{} && l.taper.share > 0.0;
        const bool as_even = !tapers && (!(l.thickness > length{}) || l.spread == even_spread);
        if (knots_.empty() && !as_even) {
            knots_.push_back(even_spread);
            chines_.assign(thicknesses_.size(), 0.0);
        }
        thicknesses_.push_back(l.thickness.value());
        missing_ = missing_ || !(l.thickness > length{});
        if (knots_.empty()) return;
        if (tapers || !taper_shares_.empty()) {
            taper_shares_.resize(thicknesses_.size());
            taper_levels_.resize(thicknesses_.size());
            if (tapers) {
                taper_shares_.back() = l.taper.share;
                taper_levels_.back() = l.taper.level;
            }
        }
        const layer_spread& given = as_even ? even_spread : l.spread;
        if (given != knots_.back()) {
            knots_.push_back(given);
            double before = 0.0;
            for (double& share : knots_.back()) share = before = std::clamp(share, before, 1.0);
            knots_.back().back() = 1.0;
        }
        chines_.push_back(static_cast<double>(knots_.size() - 1));
    }
    /// When all layers were appended without: the knots, and the places of both ends among them, 0 to the last, one a layer.
    void spread(std::vector<layer_spread> knots, std::vector<double> chines, std::vector<double> flanks) {
        knots_ = std::move(knots);
        chines_ = std::move(chines);
        flanks_ = std::move(flanks);
    }
    /// The same where a part of each tapers, and the rest is spread alike: the shares of the tapers, and how far they are
    /// level; no levels where all are wedges.
    void taper(const layer_spread& rest, std::vector<double> shares, std::vector<double> levels) {
        knots_.assign(1, rest);
        taper_shares_ = std::move(shares);
        taper_levels_ = std::move(levels);
    }
    [[nodiscard]] std::span<const double> thicknesses() const { return thicknesses_; }
    /// Puts in place of layer `i` another one; `replaced()` once all are.
    void replace(std::size_t i, std::size_t by) {
        for (std::vector<double>* column : columns())
            if (!column->empty()) (*column)[i] = (*column)[by];
    }
    void replaced() { missing_ = some_missing(thicknesses_); }
    /// Layers of another column, of which this is a copy but for which and how thick they are: those of `cells`, so many times as
    /// thick.
    void pick(const layer_column& from, std::span<const std::uint32_t> cells, double factor) {
        const auto take = [&](const std::vector<double>& before, std::vector<double>& now, double times) {
            if (before.empty()) return;
            now.resize(cells.size());
            for (std::size_t i = 0; i < cells.size(); ++i) now[i] = times * before[cells[i]];
        };
        take(from.thicknesses_, thicknesses_, factor);
        take(from.chines_, chines_, 1.0);
        take(from.flanks_, flanks_, 1.0);
        take(from.taper_shares_, taper_shares_, 1.0);
        take(from.taper_levels_, taper_levels_, 1.0);
        missing_ = (from.missing_ && some_missing(thicknesses_)) || !(factor > 0.0);
    }
    /// The same layers, each as often in a row as `times(i)` says.
    template <class Times>
    [[nodiscard]] layer_column repeated(const Times& times) const {
        layer_column result(*this);
        for (std::vector<double>* column : result.columns()) {
            const std::vector<double> once = std::exchange(*column, {});
            for (std::size_t i = 0; i < once.size(); ++i) column->insert(column->end(), times(i), once[i]);
        }
        result.replaced();
        return result;
    }

    [[nodiscard]] std::size_t size() const { return thicknesses_.size(); }
    [[nodiscard]] length thickness(std::size_t i) const { return length::from_value(thicknesses_[i]); }
    [[nodiscard]] layer at(std::size_t i) const {
        layer result{thickness(i)};
        if (even() || !(result.thickness > length{})) return result;
        const mean_of_ends entry = entries_of(i);
        for (std::size_t k = 0; k < result.spread.size(); ++k) result.spread[k] = entry(k);
        result.taper = taper_of(i);
        return result;
    }
    [[nodiscard]] bool even() const { return knots_.empty(); }
    /// Whether some cell has no layer.
    [[nodiscard]] bool missing() const { return missing_; }

    /// What `layer::within` says of at(first), at(first + 1) ... and reach(first), reach(first + 1) ..., or one reach for all.
    template <class Reach>
    void within(std::size_t first, std::span<fraction> shares, const Reach& reach) const {
        few metres;
        for (std::size_t done = 0; done < shares.size(); done += at_once) {
            const std::size_t some = std::min(at_once, shares.size() - done);
            if constexpr (std::is_convertible_v<const Reach&, length>) {
                std::fill_n(metres.begin(), some, length(reach).value());
            } else {
                for (std::size_t i = 0; i < some; ++i) metres[i] = reach(first + done + i).value();
            }
            within_some(first + done, some, metres, shares.data() + done);
        }
    }
    /// The same of one layer.
    [[nodiscard]] fraction within(std::size_t i, length reach) const {
        const length thick = thickness(i);
        if (!(thick > length{})) return 1.0;
        const double depth = share_of_depth(reach, thick);
        if (even()) return depth;
        const fraction others = depth > 0.0 ? share_on_line(entries_of(i), depth) : 0.0;
        return taper_shares_.empty() ? others : with_taper(taper_of(i), others, depth);
    }
    /// What `layer::growth` says of `at(i)`.
    [[nodiscard]] double growth(std::size_t i, length reach) const {
        if (even()) return layer{thickness(i)}.growth(reach);
        return growth_with_taper(taper_of(i), growth_of(entries_of(i), reach, thickness(i)), reach, thickness(i));
    }

    /// What a knife leaves of a layer that aims at `reach` and goes `deeper` wherever it cuts, and the least growth up to there.
    [[nodiscard]] fraction left_deeper(std::size_t i, length reach, length deeper) const {
        return of_entries(i, [&](const auto& entry) { return share_left_deeper(entry, reach, deeper, thickness(i)); });
    }
    [[nodiscard]] double least_growth(std::size_t i, length reach) const {
        return of_entries(i, [&](const auto& entry) { return least_growth_of(entry, reach, thickness(i)); });
    }

    /// The same layers, however they are kept.
    friend bool operator==(const layer_column& a, const layer_column& b) {
        if (a.thicknesses_ != b.thicknesses_) return false;
        for (std::size_t i = 0; i < a.size(); ++i)
            if (a.at(i) != b.at(i)) return false;
        return true;
    }

private:
    /// The entries of a mixture of two neighbouring knots.
    struct mixed_entries {
        const double *from, *to;
        double part;

        mixed_entries(const std::vector<layer_spread>& knots, double place) {
            const place_among_spreads among(place);
            from = knots[among.knot].data();
            to = knots[std::min(among.knot + 1, knots.size() - 1)].data(); // a part of nothing at the last
            part = among.part;
        }
        [[nodiscard]] double operator()(std::size_t k) const { return mixed_share(part, from[k], to[k]); }
    };
    /// The entries of one layer's spread.
    struct mean_of_ends {
        mixed_entries chine, flank;

        [[nodiscard]] double operator()(std::size_t k) const { return 0.5 * (chine(k) + flank(k)); }
    };
    [[nodiscard]] mean_of_ends entries_of(std::size_t i) const {
        const double chine = chines_.empty() ? 0.0 : chines_[i];
        return {mixed_entries(knots_, chine), mixed_entries(knots_, flanks_.empty() ? chine : flanks_[i])};
    }
    [[nodiscard]] layer_taper taper_of(std::size_t i) const {
        if (taper_shares_.empty()) return {};
        return {.share = taper_shares_[i], .level = taper_levels_.empty() ? 0.0 : taper_levels_[i]};
    }
    template <class F>
    [[nodiscard]] double of_entries(std::size_t i, const F& f) const {
        if (even()) return f([](std::size_t k) { return even_spread[k]; });
        const mean_of_ends entries = entries_of(i);
        if (taper_shares_.empty()) return f(entries);
        return f([&](std::size_t k) { return with_taper(taper_of(i), entries(k), even_spread[k]); });
    }
    [[nodiscard]] static bool some_missing(std::span<const double> thicknesses) {
        const double* const metres = thicknesses.data();
        std::uint64_t bits = ~std::uint64_t{0}; // of signs: below zero is what is above it, but no zero
        for (std::size_t i = 0; i < thicknesses.size(); ++i) bits &= std::bit_cast<std::uint64_t>(0.0 - metres[i]);
        return bits >> 63 == 0;
    }
    [[nodiscard]] std::array<std::vector<double>*, 5> columns() {
        return {&thicknesses_, &chines_, &flanks_, &taper_shares_, &taper_levels_};
    }

    /// Layers are asked so many at once: what is found of them on the way stays on the stack.
    static constexpr std::size_t at_once = 128;
    using few = std::array<double, at_once>;

    /// Within depths that are given in metres.
    void within_some(std::size_t first, std::size_t count, few& depths, double* shares) const {
        in_columns([=, self = this, all = &depths]()
                       TRANCHE_INLINED { self->within_depths(first, count, *all, shares); });
    }
    TRANCHE_INLINED inline void within_depths(std::size_t first, std::size_t count, few& depths, double* shares) const {
        const double* const thicknesses = thicknesses_.data() + first;
        // As share_of_depth; one after the other, or compilers make a depth of 1 a case apart.
        for (std::size_t i = 0; i < count; ++i) depths[i] = lesser(depths[i] / thicknesses[i], 1.0);
        for (std::size_t i = 0; i < count; ++i) depths[i] = greater(0.0, depths[i]);
        few spread;
        if (on_the_lean())
            for (std::size_t i = 0; i < count; ++i) spread[i] = lesser(depths[i] * most_places, 1.0);
        else if (!even() && chines_.empty())
            spread_within<0>(first, count, depths.data(), spread.data());
        else if (!even() && flanks_.empty())
            spread_within<1>(first, count, depths.data(), spread.data());
        else if (!even())
            spread_within<2>(first, count, depths.data(), spread.data());
        const few& others = even() ? depths : spread;
        if (taper_shares_.empty())
            std::copy_n(others.begin(), count, shares);
        else if (taper_levels_.empty())
            for (std::size_t i = 0; i < count; ++i)
                shares[i] = mixed_share(taper_shares_[first + i], others[i], layer_taper::within_wedge(depths[i]));
        else
            for (std::size_t i = 0; i < count; ++i) shares[i] = with_taper(taper_of(first + i), others[i], depths[i]);
        for (std::size_t i = 0; i < count && missing_; ++i) shares[i] = thicknesses[i] > 0.0 ? shares[i] : 1.0;
    }
    static constexpr auto most_places = static_cast<double>(even_spread.size());
    /// Whether all layers lie within their first 32nd, but for what tapers.
    [[nodiscard]] bool on_the_lean() const {
        return knots_.size() == 1 &&
               std::all_of(knots_[0].begin(), knots_[0].end(), [](double share) { return share == 1.0; });
    }

    /// What does not taper within depths, 0 to 1, where so many ends have places of their own. Neighbours mostly lie between the
    /// same entries of the same knots: as long as they do it is arithmetic alone, several at a time.
    template <int Ends>
    TRANCHE_INLINED inline void spread_within(std::size_t first, std::size_t count, const double* depths,
                                              double* shares) const {
        constexpr std::size_t together = 16;
        const std::size_t last = knots_.size() - 1;
        const double *const chines = Ends > 0 ? chines_.data() + first : depths, *const flanks =
                                                                                     Ends > 1 ? flanks_.data() + first
                                                                                              : depths;
        const auto whole = [](double place) { return static_cast<double>(static_cast<std::int32_t>(place)); };
        /// Both entries around of the knot in front of a place and of that behind it.
        struct corners {
            double low, low_behind, high, high_behind;
            [[nodiscard]] double low_at(double part) const { return mixed_share(part, low, low_behind); }
            [[nodiscard]] double high_at(double part) const { return mixed_share(part, high, high_behind); }
        };
        for (std::size_t i = 0; i < count;) {
            const double from = lesser(whole(depths[i] * most_places), most_places - 1.0),
                         past = from < most_places - 1.0 ? from + 1.0
                                                         : 2.0 * most_places; // the last entry takes all that is left
            const double chine_from = Ends > 0 ? whole(chines[i]) : 0.0, flank_from = Ends > 1 ? whole(flanks[i]) : 0.0;
            const auto above = static_cast<std::size_t>(from);
            const auto corners_at = [&](double knot) {
                const auto k = static_cast<std::size_t>(knot);
                const layer_spread &front = knots_[k], &behind = knots_[std::min(k + 1, last)];
                return corners{above == 0 ? 0.0 : front[above - 1], above == 0 ? 0.0 : behind[above - 1], front[above],
                               behind[above]};
            };
            const corners c = corners_at(chine_from), f = corners_at(flank_from);
            /// Signs: of what must not be below zero, and of what has to be.
            struct signs {
                std::uint64_t before = 0, in_front = ~std::uint64_t{0};
                [[nodiscard]] bool alike() const { return before >> 63 == 0 && in_front >> 63 != 0; }
            };
            const auto put = [&](std::size_t k, signs& s) TRANCHE_INLINED {
                const double place = depths[k] * most_places, chine = chines[k] - chine_from,
                             flank = flanks[k] - flank_from;
                const auto between = [&s](double off, double off_past) {
                    s.before |= std::bit_cast<std::uint64_t>(off);
                    s.in_front &= std::bit_cast<std::uint64_t>(off_past);
                };
                between(place - from, place - past);
                double low = c.low, high = c.high;
                if constexpr (Ends > 0) {
                    between(chine, chine - 1.0);
                    low = c.low_at(chine), high = c.high_at(chine);
                }
                if constexpr (Ends > 1) {
                    between(flank, flank - 1.0);
                    low = 0.5 * (low + f.low_at(flank)), high = 0.5 * (high + f.high_at(flank));
                }
                const double share = low + unfused((high - low) * (place - from));
                shares[k] = share < high ? share : high;
            };
            for (bool alike = true; alike && i + together <= count; i += alike ? together : 0) {
                signs some;
                for (std::size_t k = 0; k < together; ++k) put(i + k, some);
                alike = some.alike();
            }
            for (; i < count; ++i) {
                signs one;
                put(i, one);
                if (!one.alike()) break;
            }
        }
    }

    std::vector<double> thicknesses_;                 // metres
    bool missing_ = false;                            // whether some cell has none
    std::vector<double> chines_, flanks_;             // places; none where all are at the first, or flanks as chines
    std::vector<double> taper_shares_, taper_levels_; // none where nothing tapers, or is level
    std::vector<layer_spread> knots_;                 // none where all are even
};

} // namespace tranche::detail
