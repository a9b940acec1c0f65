// The narrow waist of the library: a loin tabulated into cumulative mass per tissue, in whole micrograms.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include <tranche/loin/detail/profile_place.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

inline constexpr length default_step = 0.5 * millimetre;
/// More positions than this are taken for a mistake in the step.
inline constexpr std::size_t most_cells = 2'000'000;

class profile;

template <loin_model Model>
[[nodiscard]] profile tabulate(const Model& model, length step = default_step,
                               const tissue_densities& densities = densities_at_4_celsius());

namespace detail {

/// One layer a cell. Where all are of even thickness, they are kept as a thickness alone.
class layer_column {
public:
    void push_back(const layer& l) {
        if (spreads_.empty() && l.spread != even_spread) spreads_.assign(thicknesses_.size(), even_spread);
        if (!spreads_.empty() || l.spread != even_spread) spreads_.push_back(l.spread);
        thicknesses_.push_back(l.thickness);
    }
    [[nodiscard]] layer at(std::size_t i) const {
        return {thicknesses_[i], spreads_.empty() ? even_spread : spreads_[i]};
    }
    [[nodiscard]] bool even() const { return spreads_.empty(); }
    /// `Even` is known to the loops that run over all cells; it spares them the question.
    template <bool Even>
    [[nodiscard]] fraction within(std::size_t i, length reach) const {
        if (!(thicknesses_[i] > length{})) return 1.0;
        const double depth = share_of_depth(reach, thicknesses_[i]);
        if constexpr (!Even)
            if (!even()) return share_within(spreads_[i], depth);
        return depth;
    }
    friend bool operator==(const layer_column&, const layer_column&) = default;

private:
    std::vector<length> thicknesses_;
    std::vector<layer_spread> spreads_; // empty as long as every layer is even
};

} // namespace detail

/// Every loin model ends here; optimisers, plans, costs and studies know nothing else.
///
/// Positions 0 .. cells() stand an even `step()` apart, from the rib face (0) to the sirloin face (cells()); only the last
/// cell may be shorter. Any slice between two positions is a difference of two table entries, so slices telescope and
/// mass closes exactly. Made by `tabulate`; immutable, and safe to share between threads.
class profile {
public:
    [[nodiscard]] length extent() const { return extent_; }
    [[nodiscard]] length step() const { return step_; }
    [[nodiscard]] std::size_t cells() const { return widths_.size() - 1; }
    /// Where position `i` (0 to cells()) lies.
    [[nodiscard]] length position(std::size_t i) const {
        return i < cells() ? detail::unfused(static_cast<double>(i) * step_) : extent_;
    }
    /// The position nearest to `at`, which is clamped to the loin, to 1/16 um; the one behind on a tie. Throws `invalid_input`
    /// for what is no number.
    [[nodiscard]] std::size_t nearest(length at) const {
        if (std::isnan(at.value())) throw invalid_input("position", detail::shown(at), "a place along the loin");
        const double cell = std::clamp<double>(at / step_, 0.0, static_cast<double>(cells()));
        const auto below = std::min(static_cast<std::size_t>(cell), cells() - 1);
        return detail::snapped(at - position(below)) < detail::snapped(position(below + 1) - at) ? below : below + 1;
    }

    /// Micrograms of `t` in front of each position (cells() + 1 entries, the first 0, never falling).
    [[nodiscard]] std::span<const std::int64_t> cumulative(tissue t) const { return cumulative_[t]; }
    /// Micrograms of all tissues in front of each position.
    [[nodiscard]] std::span<const std::int64_t> cumulative() const { return total_; }

    [[nodiscard]] micrograms total() const { return {total_.back()}; }
    [[nodiscard]] micrograms total(tissue t) const { return {cumulative_[t].back()}; }
    [[nodiscard]] micrograms between(std::size_t from, std::size_t to) const { return {total_[to] - total_[from]}; }
    [[nodiscard]] micrograms between(std::size_t from, std::size_t to, tissue t) const {
        return {cumulative_[t][to] - cumulative_[t][from]};
    }

    /// What lies between two places of any kind, clamped to the loin: below zero where `to` lies in front of `from`. Inside a
    /// cell each tissue is interpolated along a straight line and rounded down, so that neighbouring slices telescope, and
    /// tissues add up to the whole, as for positions. Places are told apart to 2^-20 of a cell. Throws `invalid_input` for
    /// a place that is no number.
    [[nodiscard]] micrograms mass_between(length from, length to, tissue t) const {
        const auto before = [&](length at) {
            if (std::isnan(at.value())) throw invalid_input("position", detail::shown(at), "a place along the loin");
            return detail::profile_place::of(*this, at).in(cumulative_[t]);
        };
        return {before(to) - before(from)};
    }
    [[nodiscard]] micrograms mass_between(length from, length to) const {
        micrograms sum;
        for (const tissue t : all_tissues) sum += mass_between(from, to, t);
        return sum;
    }

    /// The mass before it was rounded to micrograms; `total()` is the microgram nearest to it.
    [[nodiscard]] mass unrounded_total() const { return unrounded_total_; }

    /// The fat cover and the tail in the middle of cell `i` (0 to cells() - 1).
    [[nodiscard]] layer fat_cover(std::size_t i) const { return fat_covers_.at(i); }
    [[nodiscard]] layer tail(std::size_t i) const { return tails_.at(i); }
    /// How many micrograms of lean take the room of one microgram of fat.
    [[nodiscard]] double lean_for_fat() const { return lean_for_fat_; }

    /// Whether all layers are of even thickness, as on a box.
    [[nodiscard]] bool layers_are_even() const { return fat_covers_.even() && tails_.even(); }
    /// fat_cover(i).within(reach) and tail(i).within(reach), without the detour; `Even` may be true if the layers are.
    template <bool Even = false>
    [[nodiscard]] fraction fat_cover_within(std::size_t i, length reach) const {
        return fat_covers_.within<Even>(i, reach);
    }
    template <bool Even = false>
    [[nodiscard]] fraction tail_within(std::size_t i, length reach) const {
        return tails_.within<Even>(i, reach);
    }
    /// The gluteus medius share of the lean on the face at position `i`, to a billionth.
    [[nodiscard]] fraction gluteus_medius_share(std::size_t i) const { return gluteus_medius_shares_[i]; }
    /// The largest such share on any face up to each position: the second muscle does not leave again once it has entered.
    [[nodiscard]] std::span<const double> gluteus_medius_entered() const { return gluteus_medius_entered_; }
    /// The outline at position `i`; zero where the model does not know it.
    [[nodiscard]] length width(std::size_t i) const { return widths_[i]; }
    [[nodiscard]] length depth(std::size_t i) const { return depths_[i]; }

    template <loin_model Model>
    friend profile tabulate(const Model& model, length step, const tissue_densities& densities);
    friend profile on_finer_grid(const profile& meat, std::size_t parts);
    friend bool operator==(const profile&, const profile&) = default;

private:
    profile() = default;
    void scale_to(mass weight);
    void close_total();

    length extent_{}, step_{};
    mass unrounded_total_{};
    double lean_for_fat_ = 1.0;
    by_tissue<std::vector<std::int64_t>> cumulative_;
    std::vector<std::int64_t> total_;
    detail::layer_column fat_covers_, tails_;
    std::vector<double> gluteus_medius_shares_, gluteus_medius_entered_;
    std::vector<length> widths_, depths_;
};

namespace detail {

/// No loin, face or layer is as large: pictures and tables of one that is would be endless.
inline constexpr length largest_loin = 100.0 * metre;

/// `require_not_negative`, which names the field only where it has to.
inline void require_thickness(length value, const char* name, length at) {
    if (std::isfinite(value.value()) && value >= length{} && value < largest_loin) return;
    const std::string field = std::string(name) + " of the face at " + detail::shown(at);
    require_not_negative(value, field);
    throw invalid_input(field, detail::shown(value), "less than " + detail::shown(largest_loin));
}

/// Throws for a layer whose thickness is none, or whose spread is not as `layer_spread` says.
inline void require_layer(const layer& l, const char* name, length at) {
    require_thickness(l.thickness, name, at);
    constexpr double rounding = 1e-9; // sums of shares may end in some
    const auto refuse = [&](const std::string& got) {
        throw invalid_input("spread of the " + std::string(name) + " of the face at " + detail::shown(at), got,
                            "shares that never fall and end at 1");
    };
    fraction before = 0.0;
    for (const fraction share : l.spread) {
        if (!(share >= before - rounding && share <= 1.0 + rounding))
            refuse(detail::shown(share) + " after " + detail::shown(before));
        before = share;
    }
    if (!(before >= 1.0 - rounding)) refuse(detail::shown(before) + " at the end");
}

/// Linear densities of a face, in kg/m per tissue; throws for areas that are no areas.
[[nodiscard]] inline by_tissue<double> checked_linear_densities(const face& f, const tissue_densities& densities,
                                                                length at) {
    by_tissue<double> result;
    for (const tissue t : all_tissues) {
        const double square_metres = f.areas[t].value();
        if (!(std::isfinite(square_metres) && square_metres >= 0.0))
            throw invalid_input("area of " + std::string(name_of(t)) + " on the face at " + detail::shown(at),
                                detail::shown(square_metres * 1e4) + " cm2", "a finite area, zero or more");
        result[t] = unfused(square_metres * densities[t].value());
    }
    return result;
}

/// Whether a model knows the exact volume in front of a position; see `tabulate`.
template <class Model>
concept knows_volume = requires(const Model& model, length at) {
    { model.volume_before(at) } -> std::same_as<volume>;
};

/// Whether it also knows the first moment of that volume about the plane there, ∫ `volume_before` from 0 on: what a factor
/// that changes along the loin needs to stay exact (`slice_calibrated_loin`).
template <class Model>
concept knows_moment = knows_volume<Model> && requires(const Model& model, length at) {
    { model.moment_before(at) } -> std::same_as<decltype(volume{} * length{})>;
};

/// Multiplies the masses of one cell so that their volumes add up to `exact`.
inline void scale_to(volume exact, const tissue_densities& densities, by_tissue<double>& masses) {
    double cubic_metres = 0.0;
    for (const tissue t : all_tissues) cubic_metres += masses[t] / densities[t].value();
    if (!std::isfinite(exact.value()))
        throw invalid_input("volume of a cell", detail::shown(exact.value()), "a finite volume");
    const double wanted = std::max(0.0, exact.value()); // a rounding error below zero is no meat
    if (cubic_metres > 0.0)
        for (double& kilograms : masses.values) kilograms = unfused(kilograms * (wanted / cubic_metres));
    else
        masses[tissue::eye] = wanted * densities[tissue::eye].value();
}

/// A running sum that keeps the digits a plain one loses (Neumaier 1974, ZAMM 54:39).
class compensated_sum {
public:
    void add(double value) {
        const double next = sum_ + value;
        lost_ += std::abs(sum_) >= std::abs(value) ? (sum_ - next) + value : (value - next) + sum_;
        sum_ = next;
    }
    [[nodiscard]] double value() const { return sum_ + lost_; }

private:
    double sum_ = 0.0, lost_ = 0.0;
};

} // namespace detail

/// Multiplies every mass by one factor, so that all weigh `weight`.
inline void profile::scale_to(mass weight) {
    (void)to_micrograms(weight, "known mass");
    detail::require_positive(unrounded_total_, "mass of the model");
    const double factor = weight / unrounded_total_;
    unrounded_total_ = weight;
    std::fill(total_.begin(), total_.end(), 0);
    for (auto& column : cumulative_.values)
        for (std::size_t i = 0; i <= cells(); ++i) {
            column[i] = std::llround(factor * static_cast<double>(column[i]));
            total_[i] += column[i];
        }
}

/// Tissues are rounded one by one, so their sum may miss the nearest microgram by a few. Each microgram of the difference goes
/// to what is the heaviest cell of the heaviest tissue then, so that a calibrated loin weighs what the scale said, to the
/// microgram, and no mass falls.
inline void profile::close_total() {
    for (std::int64_t missing = to_micrograms(unrounded_total_).count - total_.back(); missing != 0;) {
        const std::int64_t one = missing > 0 ? 1 : -1;
        auto& column = *std::max_element(cumulative_.values.begin(), cumulative_.values.end(),
                                         [](const auto& a, const auto& b) { return a.back() < b.back(); });
        std::size_t heaviest = 0;
        for (std::size_t i = 0; i < cells(); ++i)
            if (column[i + 1] - column[i] > column[heaviest + 1] - column[heaviest]) heaviest = i;
        for (std::size_t i = heaviest + 1; i <= cells(); ++i) {
            column[i] += one;
            total_[i] += one;
        }
        missing -= one;
    }
}

/// Tabulates a model on an even grid. Mass of a tissue in front of x: density × ∫ area, by Simpson's rule on each cell
/// (exact where areas are at most cubic in x, as in prisms and frustums; of fourth order in `step` where they are smooth; of
/// second where they bend inside a cell, as where the gluteus medius sets in), rounded to the microgram. Layers are read in
/// the middle of a cell, so what a trim leaves of them is of second order; shares and outlines are read at positions.
///
/// A model that knows its volume exactly, by a `volume volume_before(length) const`, is taken at its word: in each cell
/// the volumes that Simpson's rule gives the tissues are multiplied by one factor, so that they add up to the difference
/// of `volume_before` across the cell. What Simpson's rule misses altogether (areas of zero at all three points) is `eye`.
/// One that knows its mass, by a `std::optional<mass> known_mass() const`, is taken at its word too: all masses are
/// multiplied by one factor, so that a loin that was weighed weighs the same whatever the step and the densities.
///
/// `step` is above zero, read to 1/16 um, and gives at most `most_cells` cells; a step longer than the loin gives one cell. Throws
/// `invalid_input` for a bad step, density or face, and what the model's `validate` throws.
/// Two calls of `face_at` a cell; O(cells) memory. Densities are above zero, in kilograms per cubic metre; areas of a
/// face zero or more, in square metres.
template <loin_model Model>
profile tabulate(const Model& written, length step, const tissue_densities& densities) {
    const auto& model = detail::as_tabulated(written);
    validate_model(model);
    const length extent = model.extent();
    detail::require_positive(extent, "extent");
    if (!(extent < detail::largest_loin))
        throw invalid_input("extent", extent, sentence("less than ") + detail::largest_loin);
    detail::require_positive(step, "step");
    for (const tissue t : all_tissues) detail::require_positive(densities[t], "density of " + std::string(name_of(t)));
    const length read = std::max(detail::snapped(step), 1.0 / detail::grains_in_a_metre * metre);
    const double steps = extent / std::min(step, read);
    if (!(steps <= static_cast<double>(most_cells)))
        throw invalid_input("step", step,
                            sentence("at least ") + detail::rounded_up(extent / static_cast<double>(most_cells)) +
                                " for a loin of " + extent);

    profile result;
    result.extent_ = detail::snapped(extent);
    step = read;
    const auto cells =
        static_cast<std::size_t>(std::max(1.0, std::ceil(detail::in_grains(extent) / detail::in_grains(step))));
    // What a model computed is not on the grain; its last cell reaches as far as the model does.
    const auto place = [&](std::size_t i) { return i < cells ? result.position(i) : extent; };
    result.step_ = step;
    result.lean_for_fat_ = densities[tissue::eye] / densities[tissue::fat_cover];
    result.total_.assign(cells + 1, 0);
    for (auto& column : result.cumulative_.values) column.assign(cells + 1, 0);
    result.gluteus_medius_shares_.resize(cells + 1);
    result.gluteus_medius_entered_.resize(cells + 1);
    result.widths_.resize(cells + 1);
    result.depths_.resize(cells + 1);

    const auto read_position = [&](std::size_t i) {
        const face f = model.face_at(place(i));
        const fraction share = detail::snapped_share(gluteus_medius_share(f.areas));
        result.gluteus_medius_shares_[i] = share;
        result.gluteus_medius_entered_[i] = i > 0 ? std::max(result.gluteus_medius_entered_[i - 1], share) : share;
        detail::require_thickness(f.width, "width", result.position(i));
        detail::require_thickness(f.depth, "depth", result.position(i));
        result.widths_[i] = f.width;
        result.depths_[i] = f.depth;
        return detail::checked_linear_densities(f, densities, result.position(i));
    };
    by_tissue<detail::compensated_sum> sums;
    by_tissue<double> left = read_position(0);
    for (std::size_t i = 0; i < cells; ++i) {
        const length from = place(i), to = place(i + 1), middle = 0.5 * (from + to);
        const face f = model.face_at(middle);
        detail::require_layer(f.fat_cover, "fat cover", middle);
        detail::require_layer(f.tail, "tail", middle);
        result.fat_covers_.push_back(f.fat_cover);
        result.tails_.push_back(f.tail);
        const by_tissue<double> half = detail::checked_linear_densities(f, densities, middle);
        const by_tissue<double> right = read_position(i + 1);
        const double sixth = (to - from).value() / 6.0;
        by_tissue<double> added;
        for (const tissue t : all_tissues) added[t] = detail::unfused(sixth * (left[t] + 4.0 * half[t] + right[t]));
        if constexpr (detail::knows_volume<Model>)
            detail::scale_to(model.volume_before(to) - model.volume_before(from), densities, added);
        double together = 0.0;
        for (const tissue t : all_tissues) {
            sums[t].add(added[t]);
            together += sums[t].value();
        }
        (void)to_micrograms(mass::from_value(together), "mass of the loin"); // so that the tissues can be added up
        for (const tissue t : all_tissues) {
            const std::int64_t count = to_micrograms(mass::from_value(sums[t].value()), "mass of the loin").count;
            result.cumulative_[t][i + 1] = count;
            result.total_[i + 1] += count;
        }
        left = right;
    }
    detail::compensated_sum whole;
    for (const tissue t : all_tissues) whole.add(sums[t].value());
    result.unrounded_total_ = mass::from_value(whole.value());
    if constexpr (detail::knows_mass<Model>)
        if (const std::optional<mass> known = model.known_mass()) result.scale_to(*known);
    result.close_total();
    return result;
}

} // namespace tranche
