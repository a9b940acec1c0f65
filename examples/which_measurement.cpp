// Which measurement is worth taking before cutting, where the spread of the result comes from, how thick to cut, and which thickness
// is a robust choice; with charts. Invented scenario: a loin of which only kind and weight class are known, sold by the steak.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <iostream>
#include <span>
#include <string>
#include <vector>

#include <tranche/charts.hpp>
#include <tranche/study.hpp>
#include <tranche/study_charts.hpp>

#include "made_files.hpp"

using namespace tranche;

namespace {

/// What is not known before somebody takes a tape, in mm and cm²; a longer loin has a larger face.
study_inputs invented_loins() {
    Eigen::MatrixXd correlation = Eigen::MatrixXd::Identity(4, 4);
    correlation(0, 1) = correlation(1, 0) = 0.4;
    return study_inputs({{"length", distribution::normal(400.0, 15.0)},
                         {"area of the face", distribution::normal(95.0, 6.0)},
                         {"fat cover", distribution::triangular(3.0, 8.0, 18.0)},
                         {"knife", distribution::normal(0.0, 0.7)}},
                        correlation);
}

struct sold {
    double steaks = 0.0, weight = 0.0, dollars = 0.0;
};
/// Steaks of 250 g to 330 g are sold for 14.50 dollars, others for 9. Cover beyond 6 mm is trimmed.
sold cut_at(double thickness, std::span<const double> loin) {
    const double steaks = std::floor((loin[0] - 10.0) / (thickness + loin[3]));
    const double weight = 1.06 * (loin[1] + 1.8 * std::min(loin[2], 6.0)) * 0.1 * (thickness + loin[3]);
    return {steaks, weight, steaks * (weight >= 250.0 && weight <= 330.0 ? 14.5 : 9.0)};
}

constexpr std::array<double, 4> thicknesses{22.0, 25.0, 28.0, 31.0}; // mm
const std::vector<std::string> names{"22 mm", "25 mm", "28 mm", "31 mm"};

} // namespace

/// With the name of a folder, charts and the table of the sweep are written there. Exit status 3 if they cannot be.
int main(int count, char** arguments) {
    const study_inputs loins = invented_loins();

    const auto steaks_of = [](std::span<const double> loin, std::span<double> out) {
        const sold s = cut_at(25.0, loin);
        out[0] = s.weight;
        out[1] = s.dollars;
    };
    const sensitivities spread = sobol_indices(loins, {"weight of a steak", "takings"}, steaks_of,
                                               {.points = 256, .groups = {{"size", {"length", "area of the face"}}}});
    for (const output_sensitivity& output : spread.outputs) {
        std::cout << "Spread of the " << output.name << ", by total index:\n";
        for (const input_sensitivity& input : output.inputs)
            std::cout << "  " << input.name << ": " << input.total.text() << '\n';
    }

    const auto takings = [](std::span<const double> loin, std::span<double> worth) {
        for (std::size_t d = 0; d < thicknesses.size(); ++d) worth[d] = cut_at(thicknesses[d], loin).dollars;
    };
    const information_values known = value_of_information(loins, names, takings, {.points = 256});
    std::cout << "Without measuring, cut at " << names[known.best]
              << ". Knowing before that is worth, in USD a loin:\n";
    for (const information_value& v : known.most_first()) std::cout << "  " << v.name << ": " << v.text() << '\n';

    const sweep_design design =
        grid_design({{{"thickness", "mm"}, even_steps(20.0, 34.0, 15)}, {{"fat cover", "mm"}, {2.0, 4.0, 6.0}}});
    const auto swept = [&](std::span<const double> point, const study_replicate& replicate, std::span<double> out) {
        random_stream stream = replicate.stream();
        std::array<double, 4> loin{};
        loins.draw(stream, loin);
        loin[2] = point[1];
        out[0] = cut_at(point[0], loin).dollars;
    };
    const sweep_result sweep = run_sweep(design, {{"takings", "USD"}}, swept, {.replicates = 200});

    const auto worth_of = [&](std::size_t candidate, const study_replicate& scenario) {
        random_stream stream = scenario.stream();
        std::array<double, 4> loin{};
        loins.draw(stream, loin);
        return cut_at(thicknesses[candidate], loin).dollars;
    };
    const scenario_table table = run_scenarios(names, 500, worth_of);
    const auto robust = choose_robustly(table, 0.1);
    if (!robust) return 1;
    std::cout << "Best on average: " << names[robust->on_average.candidate]
              << "; nine times out of ten: " << names[robust->at_quantile.candidate] << ", for "
              << std::lround(100.0 * robust->at_quantile.price)
              << " cents a loin; least regret: " << names[robust->least_regret.candidate] << ", for "
              << std::lround(100.0 * robust->least_regret.price) << " cents\n";
    if (count < 2) return 0;

    std::vector<double> dollars, more;
    for (std::size_t s = 0; s < table.worth[1].size(); ++s) {
        dollars.push_back(*table.worth[1][s]);
        more.push_back(*table.worth[1][s] - *table.worth[0][s]);
    }
    const sample_summary gained = summarise(more);
    tornado_chart tornado{.title = "What moves the weight of a steak", .result = {"weight of a steak", "g"}};
    const std::array<double, 4> usual{400.0, 95.0, 8.0, 0.0};
    tornado.base = cut_at(25.0, usual).weight;
    for (std::size_t i = 0; i < usual.size(); ++i) {
        std::array<double, 4> low = usual, high = usual;
        low[i] = loins[i].values.quantile(0.05);
        high[i] = loins[i].values.quantile(0.95);
        const std::string unit = i == 1 ? " cm²" : " mm";
        tornado.bars.push_back({loins[i].name, cut_at(25.0, low).weight, cut_at(25.0, high).weight,
                                std::to_string(std::lround(low[i])) + unit,
                                std::to_string(std::lround(high[i])) + unit});
    }
    convergence_chart convergence{.title = "Error of the mean weight of a steak", .error = {"standard error", "g"}};
    convergence.courses = {{"random points", {}}, {"scrambled Sobol' points", {}}};
    for (std::uint32_t n = 16; n <= 4096; n *= 4) {
        std::array<std::vector<double>, 2> means;
        for (std::uint64_t r = 0; r < 16; ++r) {
            const sobol_points net(4, r);
            std::array<double, 2> sums{};
            for (std::uint32_t i = 0; i < n; ++i) {
                std::array<double, 4> loin{};
                random_stream stream(r, i);
                loins.draw(stream, loin);
                sums[0] += cut_at(25.0, loin).weight / n;
                net.point(i, loin);
                loins.values(loin, loin);
                sums[1] += cut_at(25.0, loin).weight / n;
            }
            for (std::size_t k = 0; k < 2; ++k) means[k].push_back(sums[k]);
        }
        for (std::size_t k = 0; k < 2; ++k)
            convergence.courses[k].errors.push_back({static_cast<double>(n), *summarise(means[k]).standard_deviation});
    }
    return example::made_in(
        arguments[1], {{"study_distribution.svg",
                        distribution_svg(distribution_of("Takings of a loin at 25 mm", {"takings", "USD"}, dollars))},
                       {"study_indices.svg", interval_chart_svg(chart_of(spread.outputs[0]))},
                       {"study_information.svg", interval_chart_svg(chart_of(known, "USD a loin"))},
                       {"study_lines.svg", line_chart_svg(sweep_lines(sweep, "takings", "thickness"))},
                       {"study_map.svg", heat_map_svg(sweep_map(sweep, "takings", "thickness", "fat cover"))},
                       {"study_pairs.svg", paired_chart_svg({"25 mm against 22 mm, on the same loins",
                                                             {"difference of takings", "USD"},
                                                             "25 mm",
                                                             "22 mm",
                                                             more,
                                                             chart_band{gained.interval->low, gained.interval->high}})},
                       {"study_robust.svg", interval_chart_svg(chart_of(*robust, {"takings", "USD a loin"}))},
                       {"study_tornado.svg", tornado_svg(tornado)},
                       {"study_convergence.svg", convergence_svg(convergence)},
                       {"study_sweep.csv", sweep_csv(sweep)}});
}
