// That tissues have names and densities, and that the densities are those that composition gives.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <array>
#include <cmath>
#include <concepts>
#include <set>
#include <string_view>

#include <tranche/loin/tissue.hpp>
#include <tranche/units/literals.hpp>

namespace tissue_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

static_assert(all_tissues.size() == detail::tissue_count);
static_assert(std::regular<by_tissue<int>>);

namespace {

struct composition {
    double water, protein, fat, ash; ///< in per cent
};

/// Density of a mixture by Choi and Okos 1986 (Food Engineering and Process Applications 1:93): Σx / Σ(x/ρ) with the
/// component densities at a temperature in °C (coefficients from memory, the same in two recollections).
double density_at(double celsius, const composition& c) {
    const double t = celsius;
    const double water = 997.18 + 0.0031439 * t - 0.0037574 * t * t, protein = 1329.9 - 0.5184 * t,
                 fat = 925.59 - 0.41757 * t, ash = 2423.8 - 0.28063 * t;
    return (c.water + c.protein + c.fat + c.ash) / (c.water / water + c.protein / protein + c.fat / fat + c.ash / ash);
}

} // namespace

TEST_CASE("every tissue has a name of its own") {
    std::set<std::string_view> names;
    for (const tissue t : all_tissues) names.insert(name_of(t));
    CHECK(names.size() == detail::tissue_count);
    CHECK(name_of(tissue::gluteus_medius) == "gluteus medius");
    CHECK(name_of(tissue::connective) == "connective tissue");
}

TEST_CASE("the default densities follow from composition at four degrees") {
    // Compositions from the USDA National Nutrient Database, SR28 (read in the source): strip lean, choice, and beef
    // separable fat. Densities computed from them to three decimals.
    const double lean = density_at(4.0, {69.94, 22.93, 6.34, 1.01}), fat = density_at(4.0, {20.21, 8.21, 70.89, 0.28});
    CHECK_THAT(lean, WithinAbs(1058.413, 0.5e-3));
    CHECK_THAT(fat, WithinAbs(964.140, 0.5e-3));
    // The defaults are these to one decimal.
    const tissue_densities defaults = densities_at_4_celsius();
    CHECK_THAT(defaults[tissue::eye].value(), WithinAbs(lean, 0.05));
    CHECK_THAT(defaults[tissue::fat_cover].value(), WithinAbs(fat, 0.05));
}

TEST_CASE("the lean, the second muscle and the silverskin weigh alike, and the tail is half fat") {
    const tissue_densities d = densities_at_4_celsius();
    CHECK(d[tissue::gluteus_medius] == d[tissue::eye]);
    CHECK(d[tissue::connective] == d[tissue::eye]);
    // One kilogram of each fills the volumes of both.
    const double litres = 1.0 / d[tissue::eye].value() + 1.0 / d[tissue::fat_cover].value();
    CHECK_THAT(d[tissue::tail].value(), WithinRel(2.0 / litres, 1e-15));
}

TEST_CASE("tissues are summed") {
    by_tissue<int> counts;
    int n = 1;
    for (const tissue t : all_tissues) counts[t] = n *= 2;
    CHECK(counts.sum() == 2 + 4 + 8 + 16 + 32);
    CHECK(by_tissue<mass>{}.sum() == mass{});
}

} // namespace tissue_test
