// What a study costs beside its model: drawing numbers, summing up, one thread against two, and memory by replicates (to 10^7 of them
// with --long as the first argument, some seconds more).
// SPDX-License-Identifier: BSL-1.0
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <optional>
#include <random>
#include <span>
#include <string>
#include <vector>

#include <sys/resource.h>

#include <tranche/study.hpp>

#include "in_turn.hpp"

namespace {

using namespace tranche;
using namespace tranche_benchmark;

constexpr int draws = 200'000;

/// The sum of many draws.
template <class Draw>
double sum_of(Draw&& draw) {
    double sum = 0.0;
    for (int i = 0; i < draws; ++i) sum += draw();
    return sum;
}

std::vector<study_input> five_inputs() {
    return {{"weight", distribution::normal(5.2, 0.5)},
            {"length", distribution::normal(0.38, 0.02)},
            {"cover", distribution::lognormal(8.0, 2.0)},
            {"tail", distribution::triangular(20.0, 40.0, 60.0)},
            {"share", distribution::uniform(0.2, 0.4)}};
}

Eigen::MatrixXd third_of_all() {
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Constant(5, 5, 1.0 / 3.0);
    matrix.diagonal().setOnes();
    return matrix;
}

/// Steaks of loins taken as prisms, as long as they come out whole. Invented.
class sliced_prisms {
public:
    [[nodiscard]] study_outline outline() const {
        return {.outputs = {{"slices", 1.0, 1}, {"weight", 1e-9, 100'000}, {"cost", 0.01, 1}}, .reasons = {"none"}};
    }
    std::optional<impossible_draw> operator()(const study_replicate& replicate, std::span<std::int64_t> outputs) const {
        random_stream of_loin = replicate.stream(0), of_knife = replicate.stream(1);
        std::array<double, 5> loin{};
        inputs_.draw(of_loin, loin);
        double place = 0.0;
        std::int64_t slices = 0;
        for (double thickness = 0.0; place + thickness <= loin[1]; ++slices) {
            place += thickness;
            thickness = knife_.quantile(of_knife.next_uniform());
        }
        if (--slices == 0) return impossible_draw{0};
        outputs[0] = slices;
        outputs[1] = std::llround(loin[0] * (place / loin[1]) / static_cast<double>(slices) * 1e9);
        outputs[2] = std::llround(loin[0] * 1790.0 / static_cast<double>(slices));
        return std::nullopt;
    }

private:
    study_inputs inputs_{five_inputs(), third_of_all()};
    distribution knife_ = distribution::triangular(0.024, 0.025, 0.029);
};

/// A model that costs next to nothing: what is left is the study's own.
const study_of three_numbers(study_outline{{{"a", 1e-9, 1}, {"b", 1.0, 1}, {"c", 0.01, 1}}, {}},
                             [](const study_replicate& replicate, std::span<std::int64_t> outputs) {
                                 random_stream stream = replicate.stream();
                                 for (std::int64_t& output : outputs)
                                     output = static_cast<std::int64_t>(stream.next_bits() >> 50U);
                             });

double most_memory() { // megabytes
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

double processor_seconds() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
           1e-6 * static_cast<double>(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec);
}

} // namespace

int main(int argc, char** argv) {
    const bool longer = argc > 1 && std::string(argv[1]) == "--long"; // in front of all others
    const bool markdown = longer ? start(argc - 1, argv + 1) : start(argc, argv);

    // First, for the most that a process ever had does not fall again.
    std::vector<std::uint64_t> counts{10'000, 100'000, 1'000'000};
    if (longer) counts.push_back(10'000'000);
    std::vector<double> memory;
    for (const std::uint64_t replicates : counts) {
        benchmark::DoNotOptimize(run_study(sliced_prisms{}, {.replicates = replicates}, threads(2)).replicates());
        memory.push_back(most_memory());
    }

    std::mt19937_64 twister(1);
    std::normal_distribution<> library_normal(5.2, 0.5);
    random_stream stream(1);
    const distribution normal = distribution::normal(5.2, 0.5),
                       truncated = distribution::truncated_normal(5.2, 0.5, 4.0, 7.0),
                       lognormal = distribution::lognormal(8.0, 2.0),
                       triangular = distribution::triangular(20.0, 40.0, 60.0);
    const study_inputs independent(five_inputs()), correlated(five_inputs(), third_of_all());
    const sobol_points points(3, 1);
    std::array<double, 5> five{};
    std::array<double, 3> three{};
    std::uint32_t index = 0;
    std::vector<task> drawing{
        {"std::normal_distribution, mt19937_64", [&] { return sum_of([&] { return library_normal(twister); }); }},
        {"uniform", [&] { return sum_of([&] { return stream.next_uniform(); }); }},
        {"normal", [&] { return sum_of([&] { return normal.quantile(stream.next_uniform()); }); }},
        {"truncated normal", [&] { return sum_of([&] { return truncated.quantile(stream.next_uniform()); }); }},
        {"lognormal", [&] { return sum_of([&] { return lognormal.quantile(stream.next_uniform()); }); }},
        {"triangular", [&] { return sum_of([&] { return triangular.quantile(stream.next_uniform()); }); }},
        {"five independent inputs",
         [&] {
             return sum_of([&] {
                 independent.draw(stream, five);
                 return five[0];
             });
         }},
        {"five correlated inputs",
         [&] {
             return sum_of([&] {
                 correlated.draw(stream, five);
                 return five[0];
             });
         }},
        {"a scrambled Sobol' point of three",
         [&] {
             return sum_of([&] {
                 points.point(index++, three);
                 return three[0];
             });
         }},
    };
    run_in_turn(drawing, 21, "200,000 draws", markdown);

    constexpr std::uint64_t replicates = 100'000;
    double of_one = 0.0, of_two = 0.0; // seconds of processors: two threads that wait for each other would take more
    const auto counted = [](double& seconds, auto&& run) {
        const double before = processor_seconds(), result = run();
        seconds += processor_seconds() - before;
        return result;
    };
    const auto mean_of = [](const study_result& result) { return *result.summaries()[0].mean(); };
    std::vector<task> running{
        {"a loop without a study",
         [&] {
             const sliced_prisms model;
             std::array<std::int64_t, 3> outputs{};
             double sum = 0.0;
             for (std::uint64_t i = 0; i < replicates; ++i) {
                 model(study_replicate(1, i), outputs);
                 sum += static_cast<double>(outputs[1]);
             }
             return sum;
         }},
        {"serial",
         [&] {
             return counted(of_one, [&] { return mean_of(run_study(sliced_prisms{}, {.replicates = replicates})); });
         }},
        {"threads(2)",
         [&] {
             return counted(
                 of_two, [&] { return mean_of(run_study(sliced_prisms{}, {.replicates = replicates}, threads(2))); });
         }},
        {"three numbers, serial", [&] { return mean_of(run_study(three_numbers, {.replicates = replicates})); }},
    };
    time_in_turn(running, 21, "100,000 replicates of three outputs", markdown);

    const double scaling = running[1].median() / running[2].median();
    const double own = running[3].median() / static_cast<double>(replicates) / 3.0 * 1e9;
    const double grown = memory.back() - memory.front();
    std::printf("\nTwo threads are %.2f times as fast as one, %s 1.7, and take %.2f of its processor time. A study's "
                "own work is %.0f ns an output, drawing "
                "it included.\n",
                scaling, scaling >= 1.7 ? "at least" : "NOT at least", of_two / of_one, own);
    std::printf("Most memory after so many replicates:");
    for (std::size_t i = 0; i < counts.size(); ++i)
        std::printf(" %llu %.1f MB;", static_cast<unsigned long long>(counts[i]), memory[i]);
    std::printf(" %s.\n", grown < 2.0 ? "flat" : "NOT flat");
    return scaling >= 1.7 && grown < 2.0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
