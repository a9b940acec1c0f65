// The narrow waist of the library: a loin tabulated into cumulative mass per tissue, in whole micrograms.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/detail/cell_masses.hpp>
#include <tranche/loin/detail/checked_face.hpp>
#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/detail/layer_column.hpp>
#include <tranche/loin/detail/profile_place.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/column_arithmetic.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/wide_columns.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

inline constexpr length default_step = 0.5 * millimetre;
/// More positions than this are taken for a mistake in the step.
inline constexpr std::size_t most_cells = 2'000'000;

class profile;
class varied_profiles;

namespace detail {

/// What becomes of the masses that were read: the factor of each tissue, and what the loin weighs with them.
struct settled_masses {
    by_tissue<double> factors{};
    mass whole{};
};

template <loin_model Model, class Settle>
[[nodiscard]] profile tabulate_as(const Model& model, const even_grid& grid, const tissue_densities& densities,
                                  const Settle& settle);

} // namespace detail

template <loin_model Model>
[[nodiscard]] profile tabulate(const Model& model, length step = default_step,
                               const tissue_densities& densities = densities_at_4_celsius());

/// Every loin model ends here; optimisers, plans, costs and studies know nothing else.
///
/// Positions 0 .. cells() stand an even `step()` apart, from the rib face (0) to the sirloin face (cells()); only the
/// last cell may be shorter. Any slice between two positions is a difference of two table entries, so slices telescope
/// and mass closes exactly. Made by `tabulate`; immutable, and safe to share between threads. Positions are 0 to
/// cells(), cells 0 to cells() - 1: indices beyond are not checked. Lengths are metres, masses whole micrograms, shares
/// 0 to 1. Members throw nothing, but for `invalid_input` where a place is NaN, and are O(1).
class profile {
public:
    /// The length of the loin along its axis, above zero.
    [[nodiscard]] length extent() const { return extent_; }
    /// The distance of positions, above zero; `default_step` unless another was asked for.
    [[nodiscard]] length step() const { return step_; }
    /// How many cells there are, one or more.
    [[nodiscard]] std::size_t cells() const { return total_.size() - 1; }
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

    /// The mass of the whole loin, zero or more.
    [[nodiscard]] micrograms total() const { return {total_.back()}; }
    /// The same of one tissue.
    [[nodiscard]] micrograms total(tissue t) const { return {cumulative_[t].back()}; }
    /// What lies between positions `from` and `to`, of all tissues: below zero where `to` is in front.
    [[nodiscard]] micrograms between(std::size_t from, std::size_t to) const { return {total_[to] - total_[from]}; }
    /// The same of one tissue.
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
    /// The same of all tissues.
    [[nodiscard]] micrograms mass_between(length from, length to) const {
        micrograms sum;
        for (const tissue t : all_tissues) sum += mass_between(from, to, t);
        return sum;
    }

    /// In kilograms, zero or more, the mass before it was rounded to micrograms; `total()` is the microgram nearest to
    /// it.
    [[nodiscard]] mass unrounded_total() const { return unrounded_total_; }

    /// The fat cover and the tail in the middle of cell `i` (0 to cells() - 1); where there is none and yet some of its mass in
    /// the cell, that of the cell before it, or else behind it.
    [[nodiscard]] layer fat_cover(std::size_t i) const { return fat_covers_.at(i); }
    /// The same of the tail.
    [[nodiscard]] layer tail(std::size_t i) const { return tails_.at(i); }
    /// How many micrograms of lean take the room of one microgram of fat, above zero.
    [[nodiscard]] double lean_for_fat() const { return lean_for_fat_; }

    /// Whether all layers are of even thickness, as on a box.
    [[nodiscard]] bool layers_are_even() const { return fat_covers_.even() && tails_.even(); }
    /// fat_cover(i).within(reach) and tail(i).within(reach), without the detour; `reach` is zero or more.
    [[nodiscard]] fraction fat_cover_within(std::size_t i, length reach) const { return fat_covers_.within(i, reach); }
    /// The same of the tail.
    [[nodiscard]] fraction tail_within(std::size_t i, length reach) const { return tails_.within(i, reach); }
    /// The same of the cells from `first` on, within reach(cell), or one reach for all, one share each: faster than one by one.
    template <class Reach>
    void fat_cover_within(std::size_t first, std::span<fraction> shares, const Reach& reach) const {
        fat_covers_.within(first, shares, reach);
    }
    template <class Reach>
    void tail_within(std::size_t first, std::span<fraction> shares, const Reach& reach) const {
        tails_.within(first, shares, reach);
    }
    /// Whether each cell has a layer of fat cover, of tail.
    [[nodiscard]] bool fat_cover_throughout() const { return !fat_covers_.missing(); }
    /// The same of the tail.
    [[nodiscard]] bool tail_throughout() const { return !tails_.missing(); }
    /// fat_cover(i).growth(reach), per metre, zero or more.
    [[nodiscard]] double fat_cover_growth(std::size_t i, length reach) const { return fat_covers_.growth(i, reach); }
    /// Of the fat cover in cell `i`, what a knife leaves that aims at `reach` and goes `deeper` wherever it cuts, 0 to 1; and how
    /// long the contour is on the lean above which it cuts, over the area of the cover, per metre.
    [[nodiscard]] fraction fat_cover_left(std::size_t i, length reach, length deeper) const {
        return fat_covers_.left_deeper(i, reach, deeper);
    }
    /// The least growth, per metre, that the cover of cell `i` has up to `reach`, zero or more.
    [[nodiscard]] double fat_cover_least_growth(std::size_t i, length reach) const {
        return fat_covers_.least_growth(i, reach);
    }
    /// The gluteus medius share of the lean on the face at position `i`, to a billionth.
    [[nodiscard]] fraction gluteus_medius_share(std::size_t i) const { return gluteus_medius_shares_[i]; }
    /// The largest such share on any face up to each position: the second muscle does not leave again once it has entered.
    [[nodiscard]] std::span<const double> gluteus_medius_entered() const {
        return gluteus_medius_entered_.empty() ? gluteus_medius_shares_ : gluteus_medius_entered_;
    }
    /// The width of the outline at position `i`; zero where the model does not know it.
    [[nodiscard]] length width(std::size_t i) const { return length::from_value(widths_[i]); }
    /// The same of its depth.
    [[nodiscard]] length depth(std::size_t i) const { return length::from_value(depths_[i]); }

    template <loin_model Model, class Settle>
    friend profile detail::tabulate_as(const Model& model, const detail::even_grid& grid,
                                       const tissue_densities& densities, const Settle& settle);
    friend profile on_finer_grid(const profile& meat, std::size_t parts);
    friend varied_profiles;
    friend bool operator==(const profile&, const profile&) = default;

private:
    profile() = default;
    void write(const detail::grid_block& block, const detail::face_columns& faces,
               const by_tissue<detail::cell_column>& kilograms);
    void count(const by_tissue<double>& factors);
    void let_enter();
    void close_total();
    void lend_layers(detail::layer_column& layers, tissue t) const;

    length extent_{}, step_{};
    mass unrounded_total_{};
    double lean_for_fat_ = 1.0;
    by_tissue<std::vector<std::int64_t>> cumulative_;
    std::vector<std::int64_t> total_;
    detail::layer_column fat_covers_, tails_;
    std::vector<double> gluteus_medius_shares_, gluteus_medius_entered_; // the second only if the first fall somewhere
    std::vector<double> widths_, depths_;                                // metres
};

/// Writes what a block of cells and its positions say; masses are kept to the last bit until all are known.
inline void profile::write(const detail::grid_block& block, const detail::face_columns& faces,
                           const by_tissue<detail::cell_column>& kilograms) {
    const std::size_t first = block.first_cell;
    const detail::place_column &eye = faces.areas[tissue::eye], &other = faces.areas[tissue::gluteus_medius];
    double* const shares = gluteus_medius_shares_.data() + first;
    if (faces.none[tissue::gluteus_medius] || detail::all_zero(other, block.size()))
        std::fill_n(shares, block.cells + 1, 0.0);
    else
        for (std::size_t i = 0; i <= block.cells; ++i)
            shares[i] = other[i] > 0.0 ? detail::snapped_share(detail::share_of_lean(eye[i], other[i])) : 0.0;
    std::memcpy(widths_.data() + first, faces.widths.data(), (block.cells + 1) * sizeof(double));
    std::memcpy(depths_.data() + first, faces.depths.data(), (block.cells + 1) * sizeof(double));
    for (const tissue t : all_tissues)
        if (kilograms[t][block.cells - 1] != 0.0) // or there is none up to here
            std::memcpy(cumulative_[t].data() + first + 1, kilograms[t].data(), block.cells * sizeof(double));
}

/// Once all shares of gluteus medius are known: the largest up to each position.
inline void profile::let_enter() {
    if (detail::never_falls(gluteus_medius_shares_)) return;
    gluteus_medius_entered_ = gluteus_medius_shares_;
    double most = 0.0;
    for (double& share : gluteus_medius_entered_) share = most = std::max(most, share);
}

/// Rounds what `write` kept, multiplied, to the nearest microgram. All of it fits in 64 bits.
inline void profile::count(const by_tissue<double>& factors) {
    const std::size_t positions = total_.size();
    const bool countable = to_micrograms(unrounded_total_).count < detail::most_whole_double / 2;
    for (const tissue t : all_tissues) {
        std::int64_t* const column = cumulative_[t].data();
        const double factor = factors[t];
        if (column[positions - 1] == 0) continue; // nor is there any in front
        const auto exact = [=](std::size_t i) TRANCHE_INLINED {
            return detail::unfused(factor * std::bit_cast<double>(column[i]) * detail::micrograms_in_a_kilogram);
        };
        if (countable)
            detail::in_columns([=]() TRANCHE_INLINED {
                for (std::size_t i = 1; i < positions; ++i) column[i] = detail::nearest_whole_of(exact(i));
            });
        else
            for (std::size_t i = 1; i < positions; ++i) column[i] = detail::nearest_of_any(exact(i));
    }
    by_tissue<const std::int64_t*> columns;
    for (const tissue t : all_tissues) columns[t] = cumulative_[t].data();
    detail::in_columns([=, total = total_.data()]() TRANCHE_INLINED {
        for (std::size_t i = 1; i < positions; ++i) {
            std::int64_t sum = 0;
            for (const std::int64_t* const column : columns.values) sum += column[i];
            total[i] = sum;
        }
    });
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

/// A layer that begins or ends within a cell may not reach its middle, and yet what is there of it has to be trimmed.
inline void profile::lend_layers(detail::layer_column& layers, tissue t) const {
    if (cumulative_[t].back() == 0 || !layers.missing()) return;
    bool before = false;
    for (std::size_t i = 0; i < cells(); ++i) {
        const bool own = layers.thickness(i) > length{};
        if (!own && between(i, i + 1, t) > micrograms{}) {
            if (before)
                layers.replace(i, i - 1);
            else if (i + 1 < cells() && layers.thickness(i + 1) > length{})
                layers.replace(i, i + 1);
        }
        before = own;
    }
    layers.replaced();
}

namespace detail {

/// The grid for a model; throws what `tabulate` throws before it reads a face.
template <loin_model Model>
[[nodiscard]] even_grid checked_grid(const Model& model, length step, const tissue_densities& densities) {
    validate_model(model);
    const length extent = model.extent();
    require_positive(extent, "extent");
    if (!(extent < largest_loin)) throw invalid_input("extent", extent, sentence("less than ") + largest_loin);
    require_positive(step, "step");
    for (const tissue t : all_tissues) require_positive(densities[t], "density of " + std::string(name_of(t)));
    const length read = std::max(snapped(step), 1.0 / grains_in_a_metre * metre);
    if (!(extent / std::min(step, read) <= static_cast<double>(most_cells)))
        throw invalid_input("step", step,
                            sentence("at least ") + rounded_up(extent / static_cast<double>(most_cells)) +
                                " for a loin of " + extent);
    return even_grid(extent, read);
}

/// A table of what settle(kilograms of each tissue, faces) makes of the masses that are read; it has the last word on layers too.
template <loin_model Model, class Settle>
profile tabulate_as(const Model& model, const even_grid& grid, const tissue_densities& densities,
                    const Settle& settle) {
    const std::size_t positions = grid.cells() + 1;
    profile result;
    result.extent_ = snapped(model.extent());
    result.step_ = grid.step();
    result.lean_for_fat_ = snapped(densities[tissue::eye]) / snapped(densities[tissue::fat_cover]);
    result.total_.assign(positions, 0);
    for (auto& column : result.cumulative_.values) column.assign(positions, 0);
    for (auto* column : {&result.gluteus_medius_shares_, &result.widths_, &result.depths_}) column->resize(positions);
    face_columns faces;
    faces.reserve(grid.cells(), spreads_layers<Model>);
    const by_tissue<double> kilograms = for_each_block(
        model, grid, densities, false, faces,
        [&](const auto& block, const auto& columns, const auto& masses) { result.write(block, columns, masses); });
    const settled_masses settled = settle(kilograms, faces);
    (void)to_micrograms(settled.whole, "mass of the loin"); // so that every count fits
    result.fat_covers_ = std::move(faces.fat_covers);
    result.tails_ = std::move(faces.tails);
    result.unrounded_total_ = settled.whole;
    result.count(settled.factors);
    result.close_total();
    result.let_enter();
    result.lend_layers(result.fat_covers_, tissue::fat_cover);
    result.lend_layers(result.tails_, tissue::tail);
    return result;
}

/// Of each tissue the kilograms that `tabulate` finds, without the table and before what the model may know of its mass.
template <loin_model Model>
[[nodiscard]] by_tissue<double> tissue_masses(const Model& written, length step, const tissue_densities& densities) {
    const auto& model = as_tabulated(written);
    face_columns faces;
    return for_each_block(model, checked_grid(model, step, densities), densities, true, faces,
                          [](const auto&, const auto&, const auto&) {});
}

/// `tabulate(model, step, densities).unrounded_total()`, without the table.
template <loin_model Model>
[[nodiscard]] mass modelled_mass(const Model& model, length step, const tissue_densities& densities) {
    const double kilograms = sum_of(tissue_masses(model, step, densities));
    if constexpr (knows_mass<Model>)
        if (const std::optional<mass> known = model.known_mass()) {
            require_positive(mass::from_value(kilograms), "mass of the model");
            return to_mass(to_micrograms(*known));
        }
    return mass::from_value(kilograms);
}

} // namespace detail

/// Tabulates a model on an even grid. Mass of a tissue in front of x: density × ∫ area, by Simpson's rule on each cell
/// (exact where areas are at most cubic in x, as in prisms and frustums; of fourth order in `step` where they are smooth; of
/// second where they bend inside a cell, as where the gluteus medius sets in), rounded to the microgram. Layers are read in
/// the middle of a cell, so what a trim leaves of them is of second order; where one begins or ends within a cell and is not
/// yet or no longer there in its middle, it is that of the neighbouring cell. Shares and outlines are read at positions.
///
/// A model that knows its volume exactly, by a `volume volume_before(length) const`, is taken at its word: in each cell
/// the volumes that Simpson's rule gives the tissues are multiplied by one factor, so that they add up to the difference
/// of `volume_before` across the cell. What Simpson's rule misses altogether (areas of zero at all three points) is `eye`.
/// One that knows its mass, by a `std::optional<mass> known_mass() const`, is taken at its word too: all masses are
/// multiplied by one factor, so that a loin that was weighed weighs the same whatever the step and the densities.
///
/// `step` is above zero, read to 1/16 um, and gives at most `most_cells` cells; a step longer than the loin gives one cell. Throws
/// `invalid_input` for a bad step, density or face, and what the model's `validate` throws.
/// Two calls of `face_at` a cell, or none of a model that the library reads in columns; O(cells) memory. Densities are above zero, in kilograms per cubic metre; areas of a
/// face zero or more, in square metres.
template <loin_model Model>
profile tabulate(const Model& written, length step, const tissue_densities& densities) {
    const auto& model = detail::as_tabulated(written);
    const auto settle = [&](const by_tissue<double>& kilograms, detail::face_columns& faces) {
        if constexpr (detail::spreads_layers<Model>) model.spread_layers(faces);
        const mass modelled = mass::from_value(detail::sum_of(kilograms));
        (void)to_micrograms(modelled, "mass of the loin");
        mass whole = modelled;
        if constexpr (detail::knows_mass<Model>)
            if (const std::optional<mass> known = model.known_mass()) {
                whole = to_mass(to_micrograms(*known, "known mass"));
                detail::require_positive(modelled, "mass of the model");
            }
        const double factor = modelled > mass{} ? double(whole / modelled) : 1.0;
        return detail::settled_masses{{{factor, factor, factor, factor, factor}}, whole};
    };
    return detail::tabulate_as(model, detail::checked_grid(model, step, densities), densities, settle);
}

} // namespace tranche
