// "Equal portions from a changing face": a loin of lean whose cuts for equal portions are known in closed form.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>

#include <tranche/loin/profile.hpp>

namespace tranche_test {

using namespace tranche;

/// A(x) = 90 - 0.9 x + 0.006 x² cm², x in cm.
struct changing_face {
    tranche::length length = 40.0 * centimetre;
    [[nodiscard]] tranche::length extent() const { return length; }
    [[nodiscard]] face face_at(tranche::length at) const {
        const double x = at / centimetre;
        face f;
        f.areas[tissue::eye] = (90.0 - 0.9 * x + 0.006 * x * x) * (centimetre * centimetre);
        return f;
    }
};
/// Of 1.05 g/cm³.
[[nodiscard]] inline profile lean_loin(tranche::length extent, tranche::length step) {
    tissue_densities densities = densities_at_4_celsius();
    densities[tissue::eye] = 1050.0 * kilogram_per_cubic_metre;
    return tabulate(changing_face{extent}, step, densities);
}
/// Grams in front of x cm.
[[nodiscard]] inline double lean_grams(double x) { return 1.05 * (90.0 * x - 0.45 * x * x + 0.002 * x * x * x); }

/// The cuts for portions of 340 g, in cm, computed to 12 digits from the closed form.
inline constexpr std::array<double, 8> cuts_for_340_g{3.66391184184, 7.46516571427, 11.4117677483, 15.5116515192,
                                                      19.7723755496, 24.2006993492, 28.8020117369, 33.5795920439};

} // namespace tranche_test
