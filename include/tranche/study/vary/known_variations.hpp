// How loins differ in life: spreads and correlations with where each was published, or the words "common practice, no source".
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/kinds/loin_proportions.hpp>
#include <tranche/study/random/distribution.hpp>
#include <tranche/study/vary/loin_variation.hpp>
#include <tranche/study/vary/varied.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// How loins of a kind differ, about a loin of `typical` weight: weight, length, depth, cover, tail, onset and share of the second
/// muscle, with the spreads of `loin_proportions` and its allometry. Of a size with the exponent e on weight (of length
/// `length_exponent`, of depth, cover and tail half of what that leaves) and the spread s among loins of one weight, and with v the
/// relative spread of the weight, the spread among all loins is √((e v)² + s²) and the correlation with the weight e v / √((e v)² + s²);
/// two sizes go together as far as both go with the weight. Weight is normal, the others are lognormal. A `typical_loin` of
/// that weight is what its factors are of. Throws what `validate` of the kind throws, and for a weight that is not above zero.
template <class = detail::when_called>
[[nodiscard]] loin_variation variation_of(const loin_proportions& kind, mass typical) {
    validate(kind);
    detail::require_positive(typical, "typical weight");
    loin_variation variation;
    std::vector<std::pair<varied, double>> with_weight{{varied::weight, 1.0}};
    const double v = kind.weight.spread, e = kind.length_exponent.value;
    if (v > 0.0) variation.figures.push_back(weight_about(typical, v * typical, kind.weight.source));
    const auto size = [&](varied what, double exponent, fraction spread, std::string_view source) {
        const double of_weight = exponent * v, all = std::hypot(of_weight, spread);
        if (!(all > 0.0)) return;
        variation.figures.push_back(factor_about_one(what, all, source));
        // A size that only follows the weight would be it once more.
        if (of_weight > 0.0) with_weight.emplace_back(what, std::min(of_weight / all, 0.999));
    };
    size(varied::loin_length, e, kind.length.spread, kind.length.source);
    size(varied::depth, 0.5 * (1.0 - e), kind.depth.spread, kind.depth.source);
    const auto layer = [&](varied what, const auto& course) {
        if (course.middle > length{} || course.rib > length{} || course.sirloin > length{})
            size(what, 0.5 * (1.0 - e), course.spread, course.source);
    };
    layer(varied::fat_cover, kind.fat_cover);
    layer(varied::tail, kind.tail);
    if (kind.gluteus_medius_share_at_end.value > 0.0) {
        size(varied::gluteus_medius_onset, 0.0, kind.gluteus_medius_onset.spread, kind.gluteus_medius_onset.source);
        size(varied::gluteus_medius_share, 0.0, kind.gluteus_medius_share_at_end.spread,
             kind.gluteus_medius_share_at_end.source);
    }
    for (std::size_t i = 0; v > 0.0 && i < with_weight.size(); ++i)
        for (std::size_t k = 0; k < i; ++k)
            variation.together.push_back(
                {with_weight[k].first, with_weight[i].first, with_weight[k].second * with_weight[i].second});
    return variation;
}
/// About the typical loin of the kind.
template <class = detail::when_called>
[[nodiscard]] loin_variation variation_of(const loin_proportions& kind) {
    return variation_of(kind, kind.weight.value);
}

/// Boneless pork loins about a `boneless_pork_loin` of 4.1 kg: weight 4.1 kg and 14.95 %, length as it lies 6.16 %, depth of the
/// loin 10.84 %; weight with length 0.57, weight with depth 0.47, depth with length 0.23 (Wilson et al. 2016, J. Anim. Sci. 94:4903,
/// n about 1,238, read in the source; normal by their moments). Cover, tail and second muscle as `variation_of` the kind has them.
template <class = detail::when_called>
[[nodiscard]] loin_variation boneless_pork_variation() {
    constexpr std::string_view source = "Wilson et al. 2016, J. Anim. Sci. 94:4903 (read in the source)";
    loin_variation variation;
    variation.figures = {weight_about(4.1 * kilogram, 0.1495 * 4.1 * kilogram, source),
                         {varied::loin_length, distribution::normal(1.0, 0.0616), source},
                         {varied::depth, distribution::normal(1.0, 0.1084), source}};
    variation.together = {{varied::weight, varied::loin_length, 0.57},
                          {varied::weight, varied::depth, 0.47},
                          {varied::loin_length, varied::depth, 0.23}};
    const loin_variation others = variation_of(boneless_pork_loin);
    for (const varied_figure& figure : others.figures)
        if (figure.what != varied::weight && figure.what != varied::loin_length && figure.what != varied::depth)
            variation.figures.push_back(figure);
    return variation;
}

/// Purge of wet-aged beef: 0.1 to 3 %, most often 1 % (common practice, no source; 14 and 21 days 0.2 %, with shrink of 1.0 and 1.2 %
/// beside it, Dashdorj et al. 2016, J. Anim. Sci. Technol. 58:20, read in the source).
[[nodiscard]] inline varied_figure purge_of_wet_aged_beef() {
    return {varied::purge, distribution::triangular(0.001, 0.01, 0.03), "common practice, no source"};
}
/// Purge of pork loins after 20 days: 0.92 %, standard deviation 0.62 %, 805 loins; lognormal, so never below zero.
[[nodiscard]] inline varied_figure purge_of_pork() {
    return {varied::purge, distribution::lognormal(0.0092, 0.0062), "J. Anim. Sci. 2017, 95:4958 (read in the source)"};
}
/// What the pan leaves of a pork chop: 77.26 %, standard deviation 2.83 %.
[[nodiscard]] inline varied_figure cooking_yield_of_pork_chops() {
    return {varied::cooking_yield, distribution::truncated_normal(0.7726, 0.0283, 0.0, 1.0),
            "PMC3268573, table 1 (read in the source)"};
}
/// What the grill leaves of a strip steak, lip on: 77.8 % (USDA SR28, 235 of 302 g, computed); its spread between steaks is that of
/// pork chops, 2.83 %: common practice, no source.
[[nodiscard]] inline varied_figure cooking_yield_of_strip_steaks() {
    return {varied::cooking_yield, distribution::truncated_normal(0.778, 0.0283, 0.0, 1.0),
            "USDA SR28, items 23388 and 23391 (computed); spread: common practice, no source"};
}

} // namespace tranche
