// A ready-cut pack as the counter sells it: label, thickness, fat cover, tail and second muscle; and what it consists of.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cost/yield/purchase.hpp>
#include <tranche/cut/steak_face.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A pack of steaks. Weight and price are those of the label; the rest is seen or measured through the film, on an average
/// piece.
template <currency C>
struct steak_pack {
    std::string name{};
    mass weight{};         ///< net, of all pieces; above zero
    unit_price<C> price{}; ///< zero or more
    int pieces = 1;        ///< 1 or more
    steak_readings steak{};
    std::optional<length> thickest_fat{}; ///< at any one point; at least the mean cover
    /// The face of a piece where it is known better: traced, or of a loin model at its place. It then says what cover, tail
    /// and second muscle are, and those readings stay zero.
    std::optional<face> section{};

    /// Weight / pieces, the average; `pieces` is one or more, which `validate` checks. Throws nothing.
    [[nodiscard]] mass piece() const { return weight / static_cast<double>(pieces); }
    /// Its weight and price, money by mass, unchecked. Throws nothing.
    [[nodiscard]] purchase<C> bought() const { return {weight, price}; }

    friend bool operator==(const steak_pack&, const steak_pack&) = default;
};

/// The fat along the rim of a face: mean thickness, and where it is thickest. A layer of area A that starts on a contour
/// of length l has the mean A / l.
struct fat_readings {
    length mean{};
    length thickest{};

    friend bool operator==(const fat_readings&, const fat_readings&) = default;
};
namespace detail {

[[nodiscard]] inline fat_readings fat_readings_of(const face& f) {
    const layer& fat = f.fat_cover;
    if (!(fat.thickness > length{})) return {};
    const double contour = fat.growth(length{}); // per metre of depth and per area
    return {contour > 0.0 ? 1.0 / contour * metre : fat.thickness, fat.thickness};
}

} // namespace detail

/// Throws `invalid_input`, with the pack's name before the field, for what `purchase` and `steak_face` refuse, fewer
/// than one piece, a thickest fat below the mean, and a section that has no area, or that comes with readings of its
/// own. The weight is above zero, the price zero or more; lengths are zero or more, areas square metres.
template <currency C>
void validate(const steak_pack<C>& pack) {
    const std::string where = pack.name.empty() ? std::string() : pack.name + ": ";
    try {
        validate(pack.bought());
        if (pack.pieces < 1) throw invalid_input("pieces", std::to_string(pack.pieces), "1 or more");
        detail::require_positive(pack.steak.thickness, "thickness");
        const auto check_thickest = [&](length mean) {
            // Both may be the same reading in two units.
            if (pack.thickest_fat &&
                !(std::isfinite(pack.thickest_fat->value()) && *pack.thickest_fat >= mean * (1.0 - 1e-9)))
                throw invalid_input("thickest_fat", detail::shown(*pack.thickest_fat),
                                    "at least the mean fat cover, " + detail::shown(mean));
        };
        if (!pack.section) {
            detail::require_not_negative(pack.steak.fat_cover, "fat_cover");
            check_thickest(pack.steak.fat_cover);
            return;
        }
        if (pack.steak.fat_cover != length{} || pack.steak.tail != length{} || pack.steak.gluteus_medius != 0.0)
            throw invalid_input("section", "a face beside readings of cover, tail or second muscle",
                                "one or the other");
        for (const area& a : pack.section->areas.values)
            if (!(std::isfinite(a.value()) && a >= area{}))
                throw invalid_input("section", detail::shown(a.value()) + " m2", "finite areas, zero or more");
        detail::require_positive(pack.section->areas.sum().value(), "area of the section");
        detail::require_layers(*pack.section, length{});
        check_thickest(detail::fat_readings_of(*pack.section).mean);
    } catch (const invalid_input& error) {
        throw within(where, error);
    }
}

/// What a pack consists of. The masses add up to its weight exactly.
struct pack_contents {
    tranche::face face{}; ///< of a piece: the pack's section, or the one that its weight and readings give
    by_tissue<micrograms> masses{};
    /// The weight of the label over pieces × thickness × Σ area × density. 1 where the face was made from the weight; far
    /// from it, a thickness, a count or the section is wrong.
    double weight_over_size = 1.0;

    friend bool operator==(const pack_contents&, const pack_contents&) = default;
};

namespace detail {

/// The tissues of a pack by weight, in proportion to area × density of its face, by largest remainder. Throws
/// `invalid_input` for a pack that is not valid (with its name), and what `steak_face` refuses. O(1).
template <currency C>
[[nodiscard]] pack_contents contents_of(const steak_pack<C>& pack,
                                        const steak_shape& shape = shape_of_steaks(beef_strip_loin),
                                        const tissue_densities& densities = densities_at_4_celsius()) {
    validate(pack);
    pack_contents result;
    try {
        result.face = pack.section ? *pack.section : steak_face(pack.piece(), pack.steak, shape, densities);
    } catch (const invalid_input& error) {
        throw within(pack.name.empty() ? std::string() : pack.name + ": ", error);
    }
    std::array<double, tissue_count> by_length{}; // kilograms a metre
    double sum = 0.0;
    for (std::size_t i = 0; i < tissue_count; ++i) {
        by_length[i] = result.face.areas.values[i] * densities.values[i] / (kilogram / metre);
        sum += by_length[i];
    }
    if (pack.section) result.weight_over_size = pack.piece() / (sum * (kilogram / metre) * pack.steak.thickness);
    std::vector<std::int64_t> weights;
    constexpr double whole = 1e15; // parts of a share: finer than a microgram of any pack
    for (const double part : by_length) weights.push_back(std::llround(part / sum * whole));
    const std::vector<std::int64_t> parts =
        split_by_largest_remainder(to_micrograms(pack.weight, "weight").count, weights);
    for (std::size_t i = 0; i < tissue_count; ++i) result.masses.values[i] = {parts[i]};
    return result;
}

} // namespace detail

} // namespace tranche
