// How far the table of each model is from quadrature of its faces by Boost.Math, against what docs/loin_models.md promises.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <boost/math/quadrature/gauss.hpp>

#include <tranche/loin/profile.hpp>
#include <tranche/units/literals.hpp>

#include "loin/docs_tables.hpp"
#include "loin/every_model.hpp"

namespace model_accuracy_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// The greatest difference, over tissues and places 11 mm apart, over the mass of the loin. The faces are integrated in stretches of
/// a millimetre and three points each: the readings of our loins bend at the ends of stretches, or a bend within one is next to
/// nothing; the table's cells of 1.1 mm have bends inside.
template <loin_model Model>
double error_of(const Model& loin) {
    constexpr std::size_t stretches_a_place = 11;
    const profile meat = tabulate(loin, 1.1_mm);
    const tissue_densities densities = densities_at_4_celsius();
    const double extent = loin.extent().value();
    by_tissue<double> sums;
    std::vector<by_tissue<double>> places; // 11 mm apart, and the end
    const double stretch = 0.011 / static_cast<double>(stretches_a_place);
    for (std::size_t s = 0; stretch * static_cast<double>(s) < extent - 1e-9; ++s) {
        const double from = stretch * static_cast<double>(s), to = std::min(extent, from + stretch);
        if (s > 0 && s % stretches_a_place == 0) places.push_back(sums);
        const double half = 0.5 * (to - from), middle = 0.5 * (from + to);
        using rule = boost::math::quadrature::gauss<double, 3>;
        for (std::size_t k = 0; k < rule::abscissa().size(); ++k)
            for (const double side : {-1.0, 1.0}) {
                if (rule::abscissa()[k] == 0.0 && side > 0.0) continue;
                const face f = loin.face_at(length::from_value(middle + side * half * rule::abscissa()[k]));
                for (const tissue t : all_tissues)
                    sums[t] += half * rule::weights()[k] * f.areas[t].value() * densities[t].value();
            }
    }
    places.push_back(sums);
    double all = 0.0, worst = 0.0;
    for (const tissue t : all_tissues) all += sums[t];
    // What was weighed weighs what the scale said, on any grid: of such a loin the shares are compared.
    const double scale = detail::knows_mass<Model> ? meat.unrounded_total().value() / all : 1.0;
    for (std::size_t p = 0; p < places.size(); ++p) {
        const std::size_t i = p + 1 == places.size() ? meat.cells() : 10 * (p + 1);
        for (const tissue t : all_tissues)
            worst = std::max(worst, std::abs(static_cast<double>(meat.cumulative(t)[i]) * 1e-9 - scale * places[p][t]));
    }
    return worst / all;
}

} // namespace

TEST_CASE("no table of a model is further from quadrature than the docs say") {
    for_each_model(models_as_they_are(), [](const std::string& name, const auto& loin) {
        CAPTURE(name);
        const double promised = std::stod(docs_row("loin_models.md", name).at(1));
        const double error = error_of(loin);
        CHECK(error <= promised);
        CHECK(promised <= 1e-4); // a promise worth making: half a gram on a loin
    });
}

} // namespace model_accuracy_oracle
