// How long each loin model takes to be tabulated at 0.5 mm, against the same integrals by an adaptive rule of Boost.Math.
// Ends in a table of ratios; with --markdown the table is Markdown.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <vector>

#include <boost/math/quadrature/gauss_kronrod.hpp>

#include <tranche/tranche.hpp>

#include "in_turn.hpp"

namespace {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_benchmark;

constexpr length extent = 42_cm;

/// Invented readings.
const measured_loin measured{
    .length = extent,
    .stations = {{.at = 0_cm, .width = 22_cm, .depth = 8_cm, .fat_cover = 10_mm, .tail = 4_cm},
                 {.at = 20_cm, .width = 21_cm, .depth = 7.5_cm, .fat_cover = 8_mm, .tail = 3_cm},
                 {.at = 42_cm, .width = 20_cm, .depth = 7.2_cm, .fat_cover = 7_mm, .tail = 2_cm}},
    .gluteus_medius = {.onset = 34_cm, .share_at_end = 0.35}};

traced_loin traced_from_measured() {
    std::vector<traced_face> faces;
    for (const length& at : {0_cm, 14_cm, 28_cm, 42_cm}) {
        const taped_readings r = measured.readings_at(at);
        const length width = r.width - r.tail, depth = r.depth;
        faces.push_back({.at = at,
                         .whole = superellipse({}, width, depth, 2.2),
                         .eye = superellipse(0.05 * width, 0.9 * width, depth - r.fat_cover, 2.2)});
    }
    return {extent, faces};
}

/// The mass of every cell by adaptive quadrature: what a program would do that knows only the faces.
template <loin_model Model>
double cell_by_cell(const Model& model, const profile& grid) {
    const tissue_densities densities = densities_at_4_celsius();
    const auto mass_per_metre = [&](double x) {
        const face f = model.face_at(length::from_value(x));
        double sum = 0.0;
        for (const tissue t : all_tissues) sum += f.areas[t].value() * densities[t].value();
        return sum;
    };
    double sum = 0.0;
    for (std::size_t i = 0; i < grid.cells(); ++i)
        sum += boost::math::quadrature::gauss_kronrod<double, 15>::integrate(mass_per_metre, grid.position(i).value(),
                                                                             grid.position(i + 1).value(), 5, 1e-9);
    return sum;
}

/// From the scale weight to the bill, and the search for the plan alone. Invented cuts and prices.
void whole_job(const run_options& options) {
    const std::vector<cut_spec> cuts{{.name = "steak", .thickness = 1_in, .trim = {.fat_cover = 6_mm, .tail = 25_mm}},
                                     {.name = "fillet",
                                      .thickness = 2_in,
                                      .pieces = 2,
                                      .trim = {.fat_cover = 0_mm, .tail = 0_mm, .silverskin = false}}};
    const cutting_rules rules{.facing = 6_mm};
    const purchase<usd> bought{.weight = 5.25_kg, .price = 17.90_usd / 1_kg};
    const profile meat = calibrated_profile(measured, 5.2_kg);
    const cutting_problem problem(meat, cuts, rules);
    const portion_count_objective objective(problem);
    const planned best = most_portions(meat, cuts, rules);
    std::vector<task> tasks{
        {"the search alone", [&] { return best_path(problem, objective).score; }},
        {"scale weight to profile", [&] { return calibrated_profile(measured, 5.2_kg).unrounded_total().value(); }},
        {"profile to plan", [&] { return static_cast<double>(most_portions(meat, cuts, rules).plan.slabs.size()); }},
        {"plan to bill", [&] { return static_cast<double>(settle<usd>(best.plan, bought, {}).portions.size()); }},
        {"scale weight to bill",
         [&] {
             const profile weighed = calibrated_profile(measured, 5.2_kg);
             return static_cast<double>(
                 settle<usd>(most_portions(weighed, cuts, rules).plan, bought, {}).portions.size());
         }},
    };
    tasks = taken(std::move(tasks), options);
    time_in_turn(tasks, 301, "From the scale weight to the bill at 0.5 mm", options.markdown);
}

} // namespace

int main(int argc, char** argv) {
    const run_options options = options_of(argc, argv);
    const prism_loin prism{.length = extent, .face = {.width = 21_cm, .depth = 7.5_cm, .fat_cover = 8_mm}};
    const tapered_loin tapered{.length = extent,
                               .rib = {.width = 22_cm, .depth = 8_cm, .fat_cover = 10_mm},
                               .sirloin = {.width = 20_cm, .depth = 7_cm, .fat_cover = 7_mm}};
    const traced_loin traced = traced_from_measured();
    const cut_tilt tilt{.about_vertical = 10.0 * degree};
    const slanted_loin<measured_loin> slanted(measured, tilt);
    const profile grid = tabulate(measured);
    const double adaptive = cell_by_cell(measured, grid);
    if (std::abs(adaptive / grid.unrounded_total().value() - 1.0) > 1e-6) {
        std::cerr << "error: adaptive quadrature finds " << adaptive << " kg\n";
        return EXIT_FAILURE;
    }
    const auto tabulation = [](const auto& model) {
        return [&model] { return tabulate(model).unrounded_total().value(); };
    };
    std::vector<task> tasks{
        {"measured, adaptive cell by cell", [&] { return cell_by_cell(measured, grid); }},
        {"measured_loin, three stations", tabulation(measured)},
        {"prism_loin", tabulation(prism)},
        {"tapered_loin", tabulation(tapered)},
        {"traced_loin, four faces", tabulation(traced)},
        {"traced_loin, reading its outlines", [] { return traced_from_measured().extent().value(); }},
        {"slanted_loin of the measured one", tabulation(slanted)},
        {"slanted_loin, reading the measured one",
         [&] { return slanted_loin<measured_loin>(measured, tilt).extent().value(); }},
        {"typical_loin from its weight",
         [] { return tabulate(typical_loin(5.4_kg, beef_strip_loin)).unrounded_total().value(); }},
        // In one call now; the row has the name that it had when these were two.
        {"calibrated to the scale, then tabulated",
         [&] { return calibrated_profile(measured, 5.2_kg).unrounded_total().value(); }},
    };
    tasks = taken(std::move(tasks), options);
    run_in_turn(tasks, 31, "Tabulating a loin of 42 cm at 0.5 mm", options.markdown);
    whole_job(options);
    return EXIT_SUCCESS;
}
