// How loins differ: published moments come back from what is drawn, and what is no variation has its reason.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/study/random/random_stream.hpp>
#include <tranche/study/vary/known_variations.hpp>
#include <tranche/study/vary/loin_variation.hpp>
#include <tranche/study/vary/varied.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace known_variations_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct drawn_moments {
    std::vector<double> means, spreads;
    std::vector<std::vector<double>> correlations;
};
drawn_moments moments_of(const loin_variation& variation, std::size_t n) {
    const study_inputs inputs = inputs_of(variation);
    const std::size_t k = inputs.size();
    std::vector<std::vector<double>> columns(k);
    std::vector<double> values(k);
    for (std::size_t i = 0; i < n; ++i) {
        random_stream stream(4, i);
        inputs.draw(stream, values);
        for (std::size_t c = 0; c < k; ++c) columns[c].push_back(values[c]);
    }
    drawn_moments found;
    const auto covariance = [&](std::size_t a, std::size_t b) {
        double sum = 0.0;
        for (std::size_t i = 0; i < n; ++i) sum += (columns[a][i] - found.means[a]) * (columns[b][i] - found.means[b]);
        return sum / static_cast<double>(n - 1);
    };
    for (const std::vector<double>& column : columns) {
        double sum = 0.0;
        for (const double value : column) sum += value;
        found.means.push_back(sum / static_cast<double>(n));
    }
    for (std::size_t a = 0; a < k; ++a) found.spreads.push_back(std::sqrt(covariance(a, a)));
    for (std::size_t a = 0; a < k; ++a) {
        found.correlations.emplace_back();
        for (std::size_t b = 0; b < k; ++b)
            found.correlations[a].push_back(covariance(a, b) / (found.spreads[a] * found.spreads[b]));
    }
    return found;
}
std::size_t place(const loin_variation& variation, varied what) {
    for (std::size_t i = 0; i < variation.figures.size(); ++i)
        if (variation.figures[i].what == what) return i;
    return variation.figures.size();
}

} // namespace

TEST_CASE("pork loins that are drawn have the published moments and correlations") {
    // Wilson et al. 2016, J. Anim. Sci. 94:4903 (read in the source). Standard errors of 40,000 draws: of a mean 0.5 % of its spread,
    // of a correlation 0.005; bounds are four of them.
    const loin_variation pork = boneless_pork_variation();
    const drawn_moments found = moments_of(pork, 40'000);
    const std::size_t w = place(pork, varied::weight), l = place(pork, varied::loin_length),
                      d = place(pork, varied::depth);
    CHECK(found.means[w] == Approx(4.1).margin(4 * 0.005 * 0.613));
    CHECK(found.spreads[w] / found.means[w] == Approx(0.1495).epsilon(0.015));
    CHECK(found.means[l] == Approx(1.0).margin(4 * 0.005 * 0.0616));
    CHECK(found.spreads[l] == Approx(0.0616).epsilon(0.015));
    CHECK(found.spreads[d] == Approx(0.1084).epsilon(0.015));
    CHECK(found.correlations[w][l] == Approx(0.57).margin(0.02));
    CHECK(found.correlations[w][d] == Approx(0.47).margin(0.02));
    CHECK(found.correlations[l][d] == Approx(0.23).margin(0.02));
    for (const varied_figure& figure : pork.figures) CHECK(!figure.source.empty());
}

TEST_CASE("loins of a kind vary with their weight as typical loins do") {
    const loin_variation beef = variation_of(beef_strip_loin);
    const drawn_moments found = moments_of(beef, 40'000);
    const std::size_t w = place(beef, varied::weight), l = place(beef, varied::loin_length);
    CHECK(found.means[w] == Approx(5.4).margin(0.015));
    // Of loins that vary by 13.5 % lengths go with the cube root: 4.5 %, and 5.5 % beside it.
    CHECK(found.spreads[l] == Approx(std::hypot(0.135 / 3.0, 0.055)).epsilon(0.02));
    // The slope of the logarithms on each other is the exponent, 1/3.
    const double slope = found.correlations[w][l] * found.spreads[l] / (found.spreads[w] / found.means[w]);
    CHECK(slope == Approx(1.0 / 3.0).margin(0.01));
    CHECK(place(beef, varied::gluteus_medius_onset) < beef.figures.size());
    CHECK(place(variation_of(tuna_loin), varied::gluteus_medius_onset) == variation_of(tuna_loin).figures.size());
    CHECK(place(variation_of(tuna_loin), varied::fat_cover) == variation_of(tuna_loin).figures.size());
    CHECK_NOTHROW(inputs_of(variation_of(lamb_loin)));
    CHECK(variation_of(beef_strip_loin, 6_kg).figures.front().values.mean() == Approx(6.0));
}

TEST_CASE("a variation is complete as it is stated, and added to") {
    const loin_variation beef = variation_of(beef_strip_loin);
    const loin_variation more = beef.with(purge_of_wet_aged_beef()).with(cooking_yield_of_strip_steaks());
    CHECK(more.figures.size() == beef.figures.size() + 2);
    CHECK(more.with(varied::purge, distribution::certain(0.02)).figures.size() == more.figures.size());
    CHECK(place(more.with(purge_of_pork()).with(cooking_yield_of_pork_chops()), varied::purge) == beef.figures.size());
    CHECK(inputs_of(more).correlated());
    CHECK(inputs_of(more)[0].name == "weight");
    CHECK(more == more);
    CHECK(!(more == beef));
}

TEST_CASE("what is no variation is refused by name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(weight_about(5_kg, -1_kg), ContainsSubstring("standard deviation"));
    CHECK_THROWS_WITH(factor_about_one(varied::depth, nan), ContainsSubstring("standard deviation"));
    CHECK_THROWS_WITH(variation_of(beef_strip_loin, 0_kg), ContainsSubstring("typical weight"));
    loin_variation twice{.figures = {factor_about_one(varied::tail, 0.1), factor_about_one(varied::tail, 0.2)}};
    CHECK_THROWS_WITH(validate(twice), ContainsSubstring("tail twice"));
    loin_variation pair{.figures = {weight_about(5_kg, 1_kg), factor_about_one(varied::depth, 0.1)},
                        .together = {{varied::weight, varied::depth, 1.0}}};
    CHECK_THROWS_WITH(validate(pair), ContainsSubstring("correlation of weight and depth"));
    pair.together.front().correlation = nan;
    CHECK_THROWS_WITH(validate(pair), ContainsSubstring("above -1 and below 1"));
    pair.together.front() = {varied::weight, varied::weight, 0.5};
    CHECK_THROWS_WITH(validate(pair), ContainsSubstring("one of two figures"));
    pair.together.front() = {varied::weight, varied::tail, 0.5};
    CHECK_THROWS_WITH(validate(pair), ContainsSubstring("correlation of tail"));
    // Each two may go together so, all three cannot.
    const loin_variation three{.figures = {weight_about(5_kg, 1_kg), factor_about_one(varied::depth, 0.1),
                                           factor_about_one(varied::loin_length, 0.1)},
                               .together = {{varied::weight, varied::depth, 0.9},
                                            {varied::weight, varied::loin_length, 0.9},
                                            {varied::depth, varied::loin_length, -0.9}}};
    CHECK_THROWS_AS(validate(three), invalid_input);
    CHECK_NOTHROW(validate(loin_variation{}));
    CHECK_THROWS_AS(inputs_of(loin_variation{}), invalid_input);
    for (const varied what : all_varied) CHECK(!name_of(what).empty());
}

} // namespace known_variations_test
