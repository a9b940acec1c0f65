// What meat consists of, by mass, and the density that follows from it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>

#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>
#include <tranche/units/temperature.hpp>

namespace tranche {

/// One `T` for each component that a food analysis tells apart.
template <class T>
struct by_component {
    T water{}, protein{}, fat{}, carbohydrate{}, fibre{}, ash{}, ice{};

    friend bool operator==(const by_component&, const by_component&) = default;
};

/// Shares by mass. Analyses measure each component by itself, so they need not add up to 1; densities are those of the
/// components in proportion. `water` is what is not frozen, `ice` what is.
using composition = by_component<fraction>;

namespace detail {

/// Between these the sum of the shares is taken for the scatter of analyses. Of the tables in `known_compositions.hpp`
/// the widest are 0.975 and 1.0068 (computed from them), so percentages given as shares, or a component left out, are
/// found out: common practice, no source.
inline constexpr fraction least_composition_sum = 0.95, most_composition_sum = 1.05;

} // namespace detail

/// What the shares add up to, by mass, whatever they are: near 1 for an analysis (`validate` has the window). Throws
/// nothing.
[[nodiscard]] constexpr fraction sum_of(const composition& c) {
    return c.water + c.protein + c.fat + c.carbohydrate + c.fibre + c.ash + c.ice;
}

/// Throws `invalid_input`, with `where` before the field, for a share that is not 0 to 1, or a sum outside the window.
/// Where the window ends is common practice, no source.
template <class = detail::when_called>
void validate(const composition& c, const std::string& where = "") {
    detail::require_share(c.water, where + "water");
    detail::require_share(c.protein, where + "protein");
    detail::require_share(c.fat, where + "fat");
    detail::require_share(c.carbohydrate, where + "carbohydrate");
    detail::require_share(c.fibre, where + "fibre");
    detail::require_share(c.ash, where + "ash");
    detail::require_share(c.ice, where + "ice");
    const fraction sum = sum_of(c);
    if (!(detail::least_composition_sum <= sum && sum <= detail::most_composition_sum))
        throw invalid_input(where + "sum of the shares", detail::shown(sum),
                            detail::shown(detail::least_composition_sum) + " to " +
                                detail::shown(detail::most_composition_sum));
}

namespace detail {

/// Where the component densities hold.
inline constexpr temperature coldest_for_density{-40.0}, warmest_for_density{150.0};

} // namespace detail

/// Densities of the components, T in °C: quadratic in T for water, straight lines for the rest. Y. Choi and M. R. Okos,
/// "Effects of temperature and composition on the thermal properties of foods", in *Food Engineering and Process
/// Applications* 1 (1986), 93-101; coefficients quoted, as textbooks and the ASHRAE Refrigeration Handbook ("Thermal
/// properties of foods") reprint them. Throws `invalid_input` outside -40 to 150 °C. Densities are kg/m³, above zero.
template <class = detail::when_called>
[[nodiscard]] by_component<density> component_densities(temperature at) {
    detail::require_between(at, detail::coldest_for_density, detail::warmest_for_density, "temperature");
    const double t = at.celsius;
    const auto line = [t](double at_zero, double slope) { return (at_zero - slope * t) * kilogram_per_cubic_metre; };
    return {.water = (997.18 + 3.1439e-3 * t - 3.7574e-3 * t * t) * kilogram_per_cubic_metre,
            .protein = line(1329.9, 0.5184),
            .fat = line(925.59, 0.41757),
            .carbohydrate = line(1599.1, 0.31046),
            .fibre = line(1311.5, 0.36589),
            .ash = line(2423.8, 0.28063),
            .ice = line(916.89, 0.13071)};
}

/// Density of a mixture that keeps the volumes of its components: ρ = (1 - ε) Σx / Σ(x/ρ), with the shares x, the
/// component densities ρ of Choi and Okos (1986) at `at`, and `porosity` ε, the share of the volume that is air, 0 to
/// below 1 (0 for meat). Throws `invalid_input` for a composition, porosity or temperature that cannot be.
template <class = detail::when_called>
[[nodiscard]] density density_of(const composition& c, temperature at, fraction porosity = 0.0) {
    validate(c);
    detail::require_share(porosity, "porosity");
    if (!(porosity < 1.0)) throw invalid_input("porosity", detail::shown(porosity), "less than 1");
    const by_component<density> d = component_densities(at);
    const auto volume_per_mass = c.water / d.water + c.protein / d.protein + c.fat / d.fat +
                                 c.carbohydrate / d.carbohydrate + c.fibre / d.fibre + c.ash / d.ash + c.ice / d.ice;
    return (1.0 - porosity) * sum_of(c) / volume_per_mass;
}

/// Densities of all tissues from what the lean and the separable fat consist of. The tail is taken as half lean, half
/// fat by mass, and connective tissue as lean: common practice, no source. A fish without a fat cover has one
/// composition for both. Throws as `density_of`, naming the lean or the fat. Densities are in kilograms per cubic
/// metre, shares by mass 0 to 1, `at` is -40 to 150 °C.
template <class = detail::when_called>
[[nodiscard]] tissue_densities densities_of(const composition& lean, const composition& fat, temperature at) {
    validate(lean, "lean.");
    validate(fat, "fat.");
    const density of_lean = density_of(lean, at), of_fat = density_of(fat, at);
    tissue_densities result;
    result[tissue::eye] = result[tissue::gluteus_medius] = result[tissue::connective] = of_lean;
    result[tissue::fat_cover] = of_fat;
    result[tissue::tail] = 2.0 / (1.0 / of_lean + 1.0 / of_fat);
    return result;
}

} // namespace tranche
