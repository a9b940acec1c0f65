// The code that docs/studies.md shows, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <array>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <vector>

#include <tranche/study.hpp>

#include "docs_pages.hpp"
#include "run_program.hpp"

namespace studies_snippets {

using namespace tranche;
using namespace tranche_test;

namespace {

Eigen::MatrixXd identity_but(double weight_length) {
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(3, 3);
    matrix(0, 1) = matrix(1, 0) = weight_length;
    return matrix;
}

struct slices_of {
    double thickness = 0.030; // metres
    study_inputs loin{{{"weight, kg", distribution::truncated_normal(5.2, 0.5, 3.5, 7.0)},
                       {"length, m", distribution::normal(0.38, 0.02)},
                       {"error of the knife, m", distribution::triangular(-0.002, 0.0, 0.003)}},
                      identity_but(0.6)}; // longer loins are heavier

    study_outline outline() const {
        return {.outputs = {{"slices", 1.0, 1},        // pieces
                            {"weight", 1e-9, 100'000}, // micrograms, in bins of 0.1 g
                            {"cost", 0.01, 1}},        // cents
                .reasons = {"shorter than a slice"}};
    }

    std::optional<impossible_draw> operator()(const study_replicate& replicate, std::span<std::int64_t> outputs) const {
        random_stream stream = replicate.stream();
        std::array<double, 3> drawn{};
        loin.draw(stream, drawn);
        const auto [weight, length_of_loin, error] = drawn;
        const double each = thickness + error, slices = std::floor(length_of_loin / each);
        if (slices < 1.0) return impossible_draw{0};
        outputs[0] = std::llround(slices);
        outputs[1] = std::llround(weight * each / length_of_loin * 1e9);
        outputs[2] = std::llround(weight * 1790.0 / slices);
        return std::nullopt;
    }
};

} // namespace

TEST_CASE("docs on studies: a study is run and read as the page says") {
    const study_result r = run_study(slices_of{}, {.replicates = 10'000}, threads(2));
    const auto cost = estimate_mean(r["cost"]);                         // its mean, with a 95 % interval
    const auto slices = estimate_quantiles(r["slices"], {0.05, 0.95});  // 9 times out of 10 between these
    const tolerance_limits limits = find_tolerance_limits(r["weight"]); // for 95 % of all slices, with 95 % confidence
    CHECK(r.ended == study_end::finished);
    CHECK(r.failed() == 0);
    CHECK(r.impossible()[0] == 0);
    CHECK(cost->interval.low < cost->mean);
    CHECK(slices[0].value == 11.0);
    CHECK(slices[1].value == 13.0);
    CHECK(*limits.low < *limits.high);

    const study_options precise{.replicates = 1'000'000,
                                .precision = study_precision{.output = "cost", .half_width = 0.01}};
    const study_result enough = run_study(slices_of{}, precise, threads(2));
    CHECK(enough.ended == study_end::precise);
    CHECK(estimate_mean(enough["cost"])->half_width() <= 0.01);
    CHECK(enough.replicates() < 100'000);
}

TEST_CASE("docs on studies: shards, files and more precision as the page says") {
    const scratch_folder scratch;
    const std::filesystem::path folder = scratch.path;
    const study_options options{.title = "30 mm", .replicates = 5000};
    study_result whole = run_study(slices_of{}, options, shard(0, 2));                  // on one machine
    write_study_file(folder / "1.study", run_study(slices_of{}, options, shard(1, 2))); // on another
    whole.merge(read_study_file(folder / "1.study"));
    CHECK(study_digest(whole) == study_digest(run_study(slices_of{}, options)));

    const study_result more = resume_study(whole, slices_of{}, {.title = "30 mm", .replicates = 20'000});
    CHECK(more == run_study(slices_of{}, {.title = "30 mm", .replicates = 20'000}));
}

TEST_CASE("docs on studies: choices are compared as the page says") {
    const study_comparison thicknesses(
        std::vector<study_choice<slices_of>>{{"30 mm", {.thickness = 0.030}}, {"28 mm", {.thickness = 0.028}}});
    const study_result r = run_study(thicknesses, {.replicates = 2000});
    const auto more = estimate_mean(r["28 mm - 30 mm: slices"]);
    CHECK(more->interval.low > 0.7);
    CHECK(more->interval.high < 1.1);
    CHECK(r["28 mm: slices"].count() == 2000);
}

TEST_CASE("docs on studies: nets are used as the page says") {
    const study_inputs inputs(
        {{"width", distribution::uniform(0.20, 0.24)}, {"depth", distribution::normal(0.08, 0.004)}});
    const sobol_points net(inputs.size(), 1);
    std::vector<double> means;
    for (std::uint64_t randomisation = 0; randomisation < 16; ++randomisation) {
        const sobol_points points = net.randomised(randomisation);
        double sum = 0.0;
        std::array<double, 2> x{};
        for (std::uint32_t i = 0; i < 1024; ++i) {
            points.point(i, x);
            inputs.values(x, x);
            sum += x[0] * x[1];
        }
        means.push_back(sum / 1024.0);
    }
    const sample_summary area_of_face = summarise(means); // mean and interval, from 16 independent nets
    CHECK(area_of_face.mean == Approx(0.22 * 0.08).epsilon(1e-4));
    CHECK(*area_of_face.standard_deviation < 1e-6);
}

TEST_CASE("docs on studies: the promises on coverage are those of the library") {
    CHECK(wilks_sample_size({.coverage = 0.95, .confidence = 0.95}) == 59);
    CHECK(wilks_sample_size({.coverage = 0.95, .confidence = 0.95}, 1, true) == 93);
}

} // namespace studies_snippets
