// That densities follow from compositions as the published model and tables have it.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <array>
#include <cmath>
#include <string>
#include <vector>

#include <tranche/loin/kinds/composition.hpp>
#include <tranche/loin/kinds/known_compositions.hpp>
#include <tranche/loin/tissue.hpp>

namespace composition_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("component densities are those of Choi and Okos to all four decimals") {
    // Choi and Okos 1986; the table is computed from the quoted coefficients, by other code, and printed to 4 decimals.
    struct row {
        temperature at;
        double water, ice, protein, fat, carbohydrate, fibre, ash;
    };
    constexpr std::array rows{row{{-40.0}, 991.0424, 922.1184, 1350.6360, 942.2928, 1611.5184, 1326.1356, 2435.0252},
                              row{4_degC, 997.1325, 916.3672, 1327.8264, 923.9197, 1597.8582, 1310.0364, 2422.6775},
                              row{20_degC, 995.7399, 914.2758, 1319.5320, 917.2386, 1592.8908, 1304.1822, 2418.1874},
                              row{25_degC, 994.9102, 913.6223, 1316.9400, 915.1508, 1591.3385, 1302.3528, 2416.7843}};
    constexpr double half_of_last_digit = 0.5e-4 + 1e-9;
    for (const row& r : rows) {
        const by_component<density> d = component_densities(r.at);
        CAPTURE(r.at.celsius);
        CHECK_THAT(d.water.value(), WithinAbs(r.water, half_of_last_digit));
        CHECK_THAT(d.ice.value(), WithinAbs(r.ice, half_of_last_digit));
        CHECK_THAT(d.protein.value(), WithinAbs(r.protein, half_of_last_digit));
        CHECK_THAT(d.fat.value(), WithinAbs(r.fat, half_of_last_digit));
        CHECK_THAT(d.carbohydrate.value(), WithinAbs(r.carbohydrate, half_of_last_digit));
        CHECK_THAT(d.fibre.value(), WithinAbs(r.fibre, half_of_last_digit));
        CHECK_THAT(d.ash.value(), WithinAbs(r.ash, half_of_last_digit));
    }
}

TEST_CASE("densities of analysed meat agree with the computed table to all three decimals") {
    // Computed by other code from the model of Choi and Okos (1986) and the analyses of USDA SR28, and printed to three
    // decimals. The ash of pork fat is itself computed from one of these densities, so of its three two are a check.
    struct row {
        const char* name;
        composition of;
        double at_0, at_4, at_20;
    };
    const std::array rows{row{"strip lean, choice", beef_strip_lean_choice, 1058.892, 1058.413, 1055.544},
                          row{"strip lean, select", beef_strip_lean_select, 1061.281, 1060.832, 1058.063},
                          row{"strip, choice, 0 in", beef_strip_trimmed_choice, 1054.233, 1053.708, 1050.688},
                          row{"strip, prime, 1/8 in", beef_strip_trimmed_prime, 1033.127, 1032.399, 1028.724},
                          row{"beef fat", beef_separable_fat, 965.533, 964.140, 958.329},
                          row{"pork lean", pork_top_loin_lean, 1060.269, 1059.856, 1057.204},
                          row{"pork fat", pork_separable_fat, 973.221, 971.896, 966.303},
                          row{"yellowfin", yellowfin_tuna, 1072.153, 1071.770, 1069.212},
                          row{"bluefin", bluefin_tuna, 1064.341, 1063.871, 1061.029}};
    constexpr double half_of_last_digit = 0.5e-3 + 1e-9;
    for (const row& r : rows) {
        CAPTURE(r.name);
        CHECK_THAT(density_of(r.of, 0_degC).value(), WithinAbs(r.at_0, half_of_last_digit));
        CHECK_THAT(density_of(r.of, 4_degC).value(), WithinAbs(r.at_4, half_of_last_digit));
        CHECK_THAT(density_of(r.of, 20_degC).value(), WithinAbs(r.at_20, half_of_last_digit));
    }
}

TEST_CASE("every known composition is whole, but for the scatter of analyses") {
    struct row {
        const char* name;
        const composition& of;
    };
    // The widest but for the bluefin tuna, of which the table says so, are select lean, 1.0068, and trimmed prime, 1.0036.
    const std::vector<row> rows{{"beef strip lean", beef_strip_lean},
                                {"choice", beef_strip_lean_choice},
                                {"select", beef_strip_lean_select},
                                {"trimmed choice", beef_strip_trimmed_choice},
                                {"trimmed prime", beef_strip_trimmed_prime},
                                {"beef fat", beef_separable_fat},
                                {"pork lean", pork_top_loin_lean},
                                {"pork fat", pork_separable_fat},
                                {"lamb lean", lamb_loin_lean},
                                {"lamb fat", lamb_separable_fat},
                                {"yellowfin", yellowfin_tuna}};
    for (const row& r : rows) {
        CAPTURE(r.name);
        CHECK_THAT(sum_of(r.of), WithinAbs(1.0, 0.0068 + 1e-12));
        for (const fraction share : {r.of.water, r.of.protein, r.of.fat, r.of.ash}) CHECK(share > 0.0);
    }
    CHECK_THAT(sum_of(bluefin_tuna), WithinAbs(0.975, 1e-12));
}

TEST_CASE("the ash of lamb fat counts in its density") {
    composition without = lamb_separable_fat;
    without.ash = 0.0;
    // By hand: 0.0036 of 2422.7 kg/m³ in 1.0016 of 961.1, at 4 degrees.
    CHECK_THAT((density_of(lamb_separable_fat, 4_degC) - density_of(without, 4_degC)).value(), WithinAbs(2.1, 0.05));
}

TEST_CASE("the default densities are those of beef at 4 degrees to the digits they are given with") {
    const tissue_densities exact = densities_of(beef_strip_lean_choice, beef_separable_fat, 4_degC);
    const tissue_densities given = densities_at_4_celsius();
    // Half of a tenth; the tail is a mean of the two and no further off than they are.
    for (const tissue t : all_tissues) CHECK_THAT(given[t].value(), WithinAbs(exact[t].value(), 0.05));
}

TEST_CASE("a single component has its own density at every temperature") {
    for (const double degrees : {-40.0, 0.0, 37.0, 150.0}) {
        const temperature at{degrees};
        const by_component<density> d = component_densities(at);
        // A quotient of a quotient: two roundings.
        CHECK_THAT(density_of({.water = 1.0}, at).value(), WithinRel(d.water.value(), 4.5e-16));
        CHECK_THAT(density_of({.fibre = 1.0}, at).value(), WithinRel(d.fibre.value(), 4.5e-16));
        CHECK_THAT(density_of({.ice = 1.0}, at).value(), WithinRel(d.ice.value(), 4.5e-16));
    }
}

TEST_CASE("the density of a mixture lies between those of its components and falls with fat") {
    const by_component<density> d = component_densities(4_degC);
    density before = d.protein;
    for (int i = 0; i <= 20; ++i) {
        const double fat = 0.05 * i;
        const density rho = density_of({.protein = 1.0 - fat, .fat = fat}, 4_degC);
        if (i > 0) CHECK(rho < before);
        CHECK(rho.value() >= d.fat.value() * (1.0 - 1e-15));
        CHECK(rho.value() <= d.protein.value() * (1.0 + 1e-15));
        before = rho;
    }
}

TEST_CASE("shares that add up to a little more or less than one count in proportion") {
    composition scaled = beef_strip_lean_choice;
    for (fraction* share : {&scaled.water, &scaled.protein, &scaled.fat, &scaled.ash}) *share *= 0.96;
    CHECK_THAT(density_of(scaled, 4_degC).value(),
               WithinRel(density_of(beef_strip_lean_choice, 4_degC).value(), 1e-15)); // five roundings at half an ulp
}

TEST_CASE("air in the meat takes its share off the density") {
    const density solid = density_of(pork_top_loin_lean, 4_degC);
    CHECK_THAT(density_of(pork_top_loin_lean, 4_degC, 0.25).value(), WithinRel(0.75 * solid.value(), 4.5e-16));
}

TEST_CASE("freezing the water makes meat lighter by what the ice adds to its volume") {
    composition frozen = beef_strip_lean_choice;
    frozen.ice = 0.8 * frozen.water;
    frozen.water -= frozen.ice;
    const temperature at{-10.0};
    const by_component<density> d = component_densities(at);
    const auto per_mass = [&](const composition& c) { return (sum_of(c) / density_of(c, at)).value(); };
    const double expected = frozen.ice * (1.0 / d.ice.value() - 1.0 / d.water.value());
    // A difference of two volumes near 9e-4 with roundings of a few 1e-19.
    CHECK_THAT(per_mass(frozen) - per_mass(beef_strip_lean_choice), WithinAbs(expected, 2e-18));
    CHECK(expected > 0.0);
}

TEST_CASE("a composition that cannot be is refused by the name of its field") {
    CHECK_THROWS_WITH(density_of({.water = 69.94, .protein = 22.93, .fat = 6.34}, 4_degC),
                      Equals("water: got 69.94, expected a share, 0 to 1"));
    CHECK_THROWS_WITH(density_of({.water = 0.7, .protein = 0.2}, 4_degC),
                      Equals("sum of the shares: got 0.9, expected 0.95 to 1.05"));
    CHECK_THROWS_WITH(density_of({.water = 0.8, .protein = 0.3}, 4_degC),
                      Equals("sum of the shares: got 1.1, expected 0.95 to 1.05"));
    CHECK_THROWS_AS(density_of({.water = 1.0, .fat = -0.01}, 4_degC), invalid_input);
    CHECK_THROWS_AS(density_of({.water = 1.0, .ash = std::nan("")}, 4_degC), invalid_input);
    CHECK_THROWS_WITH(densities_of(beef_strip_lean_choice, {.fat = 0.5}, 4_degC),
                      StartsWith("fat.sum of the shares: got 0.5"));
    CHECK_THROWS_WITH(density_of(beef_separable_fat, {150.5}),
                      Equals("temperature: got 150.5 degC, expected -40 degC to 150 degC"));
    CHECK_THROWS_AS(density_of(beef_separable_fat, {-40.5}), invalid_input);
    CHECK_THROWS_AS(density_of(beef_separable_fat, 4_degC, 1.0), invalid_input);
    CHECK_NOTHROW(density_of(bluefin_tuna, {-40.0}));
}

} // namespace composition_test
