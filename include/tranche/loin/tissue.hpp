// The tissues that the face of a boneless loin divides into, and their densities.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

#include <tranche/units/quantity.hpp>

namespace tranche {

/// What a face is made of. `eye` is the longissimus muscle, `gluteus_medius` the second muscle that enters towards the
/// sirloin end, `fat_cover` the fat over the eye, `tail` the flank edge beyond it, `connective` silverskin and back strap.
enum class tissue { eye, gluteus_medius, fat_cover, tail, connective };

namespace detail {

inline constexpr std::size_t tissue_count = 5;

} // namespace detail
inline constexpr std::array<tissue, detail::tissue_count> all_tissues{
    tissue::eye, tissue::gluteus_medius, tissue::fat_cover, tissue::tail, tissue::connective};

/// "eye", "fat cover" and so on, in English for reports and errors. Any tissue; throws nothing.
[[nodiscard]] constexpr std::string_view name_of(tissue t) {
    switch (t) {
    case tissue::eye: return "eye";
    case tissue::gluteus_medius: return "gluteus medius";
    case tissue::fat_cover: return "fat cover";
    case tissue::tail: return "tail";
    case tissue::connective: break;
    }
    return "connective tissue";
}

/// One `T` for each tissue.
template <class T>
struct by_tissue {
    std::array<T, detail::tissue_count> values{};

    [[nodiscard]] constexpr T& operator[](tissue t) { return values[static_cast<std::size_t>(t)]; }
    [[nodiscard]] constexpr const T& operator[](tissue t) const { return values[static_cast<std::size_t>(t)]; }
    /// Over all tissues, in the unit of `T`. Throws what `+` of `T` throws: nothing for quantities, `invalid_input` for
    /// micrograms beyond 64 bits.
    [[nodiscard]] constexpr T sum() const {
        T total{};
        for (const T& value : values) total += value;
        return total;
    }
    friend bool operator==(const by_tissue&, const by_tissue&) = default;
};

using tissue_densities = by_tissue<density>;

/// Densities at 4 °C. Lean 1058.4 and separable fat 964.1 kg/m³ follow from the component densities of Choi and Okos
/// (1986) with the composition of raw choice strip lean and of raw beef fat in USDA SR28 (items 23370 and 13019). The
/// tail is taken as half lean, half fat by mass, and connective tissue as lean: common practice, no source. In
/// kilograms per cubic metre. Throws nothing.
[[nodiscard]] constexpr tissue_densities densities_at_4_celsius() {
    const density lean = 1058.4 * kilogram_per_cubic_metre, fat = 964.1 * kilogram_per_cubic_metre;
    return {{lean, lean, fat, 2.0 / (1.0 / lean + 1.0 / fat), lean}};
}

} // namespace tranche
