// Sweeps: a model at each point of a design, on the same replicates everywhere, and the results as tidy rows.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/statistics/sample_summary.hpp>
#include <tranche/study/run/each_task.hpp>
#include <tranche/study/run/executors.hpp>
#include <tranche/study/run/study_model.hpp>
#include <tranche/study/sweep/sweep_design.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// A figure that a sweep collects: its name, and the unit of its numbers.
struct sweep_output {
    std::string name{}, unit{};

    friend bool operator==(const sweep_output&, const sweep_output&) = default;
};

struct sweep_options {
    std::uint64_t seed = 1;       ///< of the replicates, which are the same at each point
    std::uint32_t replicates = 1; ///< 1 to 2^24; one for a model that draws nothing
    fraction confidence = 0.95;   ///< of the intervals of means

    friend bool operator==(const sweep_options&, const sweep_options&) = default;
};

/// One output at one point.
struct sweep_row {
    std::size_t point = 0, output = 0;
    std::uint32_t count = 0;                       ///< replicates that were possible
    std::uint32_t impossible = 0;                  ///< and those that were not
    std::optional<double> mean{};                  ///< none where all were impossible
    std::optional<double> standard_deviation{};    ///< of one replicate; none with fewer than two
    std::optional<confidence_interval> interval{}; ///< of the mean

    friend bool operator==(const sweep_row&, const sweep_row&) = default;
};

/// A row for each point and output, the outputs of a point one after the other.
struct sweep_result {
    sweep_design design{};
    std::vector<sweep_output> outputs{};
    std::vector<sweep_row> rows{};

    [[nodiscard]] const sweep_row& at(std::size_t point, std::size_t output) const {
        return rows.at(point * outputs.size() + output);
    }
    /// The places of an output and of an axis by their names. Throw `invalid_input`, with the names that there are, for others.
    [[nodiscard]] std::size_t output_called(std::string_view name) const { return place_of(outputs, name, "output"); }
    [[nodiscard]] std::size_t axis_called(std::string_view name) const { return place_of(design.axes, name, "axis"); }

    friend bool operator==(const sweep_result&, const sweep_result&) = default;

private:
    template <class Named>
    [[nodiscard]] static std::size_t place_of(const std::vector<Named>& all, std::string_view name, const char* what) {
        std::string known;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (all[i].name == name) return i;
            known += (known.empty() ? "" : ", ") + all[i].name;
        }
        throw invalid_input(what, std::string(name), "one of " + known);
    }
};

namespace detail {

/// "point 3 (thickness = 25, price = 8), replicate 17".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string sweep_place(const sweep_design& design, std::size_t point,
                                                   std::uint32_t replicate) {
    std::string text = "point " + std::to_string(point) + " (";
    for (std::size_t a = 0; a < design.axes.size(); ++a)
        text += (a == 0 ? "" : ", ") + design.axes[a].name + " = " + shown(design.points[point][a]);
    return text + "), replicate " + std::to_string(replicate);
}

/// Models are called with point, replicate and outputs, or with point and outputs; they return nothing, or whether it was possible.
template <class Model>
bool call_swept(const Model& model, std::span<const double> point, const study_replicate& replicate,
                std::span<double> outputs) {
    const auto call = [&] {
        if constexpr (std::invocable<const Model&, std::span<const double>, const study_replicate&, std::span<double>>)
            return model(point, replicate, outputs);
        else
            return model(point, outputs);
    };
    if constexpr (std::is_void_v<decltype(call())>) {
        call();
        return true;
    } else {
        return call();
    }
}

} // namespace detail

/// Runs the model at each point of the design, with replicates 0, 1, ... of the seed at each: common random numbers, so that points
/// differ by what was varied and not by the loins that were drawn. Means with intervals by Student's t (`summarise`).
///
/// `model` is called with (std::span<const double> point, const study_replicate&, std::span<double> outputs), or without the replicate,
/// and may return false for what is impossible, which is counted and is no part of the mean. By an executor with several threads it is
/// called from all of them at once; the result is the same bits. Throws `invalid_input` for a design that is none, no outputs, an
/// output without a name or there twice, no replicates, and an output that is not finite, naming point and replicate; what the model
/// throws comes nested in a `std::runtime_error` that names them. Memory: the outputs of one point for each thread.
template <class Model, class Executor = serial>
[[nodiscard]] sweep_result run_sweep(const sweep_design& design, const std::vector<sweep_output>& outputs,
                                     const Model& model, const sweep_options& options = {},
                                     const Executor& executor = {}) {
    validate(design);
    if (outputs.empty()) throw invalid_input("outputs", "none", "at least one");
    for (std::size_t k = 0; k < outputs.size(); ++k) {
        const std::string field = "outputs[" + std::to_string(k) + "].name";
        if (outputs[k].name.empty()) throw invalid_input(field, "nothing", "a name");
        for (std::size_t j = 0; j < k; ++j)
            if (outputs[j].name == outputs[k].name)
                throw invalid_input(field, outputs[k].name, "a name that no other output has");
    }
    if (options.replicates < 1 || options.replicates > (1U << 24U))
        throw invalid_input("replicates", std::to_string(options.replicates), "1 to 2^24");
    detail::require_confidence(options.confidence);
    sweep_result result{design, outputs, std::vector<sweep_row>(design.points.size() * outputs.size())};
    each_task(executor, design.points.size(), [&](std::uint64_t task) {
        const auto p = static_cast<std::size_t>(task);
        std::vector<std::vector<double>> values(outputs.size());
        std::vector<double> one(outputs.size());
        std::uint32_t impossible = 0;
        for (std::uint32_t r = 0; r < options.replicates; ++r) {
            bool possible = false;
            try {
                possible = detail::call_swept(model, design.points[p], study_replicate(options.seed, r), one);
            } catch (const std::exception& e) {
                std::throw_with_nested(
                    std::runtime_error("the model threw at " + detail::sweep_place(design, p, r) + ": " + e.what()));
            }
            impossible += !possible;
            for (std::size_t k = 0; possible && k < one.size(); ++k) {
                if (!std::isfinite(one[k]))
                    throw invalid_input(outputs[k].name + " at " + detail::sweep_place(design, p, r),
                                        detail::shown(one[k]), "a finite number");
                values[k].push_back(one[k]);
            }
        }
        for (std::size_t k = 0; k < outputs.size(); ++k) {
            sweep_row& row = result.rows[p * outputs.size() + k];
            row = {.point = p, .output = k, .count = options.replicates - impossible, .impossible = impossible};
            if (values[k].empty()) continue;
            const sample_summary summary = summarise(values[k], options.confidence);
            row.mean = summary.mean;
            row.standard_deviation = summary.standard_deviation;
            row.interval = summary.interval;
        }
    });
    return result;
}

/// An output that is to be as large, or as small, as possible.
struct sweep_goal {
    std::string output{};
    bool most = true;

    friend bool operator==(const sweep_goal&, const sweep_goal&) = default;
};

/// The points that no other is better than in all goals: as good in each, and better in one (Pareto 1906). By means, in the order of
/// the design; of points alike all are in it, and points where nothing was possible are not. Throws `invalid_input` for no goals and for
/// outputs that there are not. O(points² × goals).
template <class = detail::when_called>
[[nodiscard]] std::vector<std::size_t> front_of(const sweep_result& result, const std::vector<sweep_goal>& goals) {
    if (goals.empty()) throw invalid_input("goals", "none", "at least one");
    std::vector<std::vector<double>> scores;
    std::vector<std::size_t> places;
    std::vector<std::size_t> outputs;
    for (const sweep_goal& g : goals) outputs.push_back(result.output_called(g.output));
    for (std::size_t p = 0; p < result.design.points.size(); ++p) {
        std::vector<double> score;
        for (std::size_t g = 0; g < goals.size(); ++g)
            if (const sweep_row& row = result.at(p, outputs[g]); row.mean)
                score.push_back(goals[g].most ? *row.mean : -*row.mean);
        if (score.size() < goals.size()) continue;
        scores.push_back(std::move(score));
        places.push_back(p);
    }
    std::vector<std::size_t> front;
    for (std::size_t i = 0; i < scores.size(); ++i) {
        const bool beaten = std::any_of(scores.begin(), scores.end(), [&](const std::vector<double>& other) {
            bool better = false;
            for (std::size_t g = 0; g < goals.size(); ++g) {
                if (other[g] < scores[i][g]) return false;
                better = better || other[g] > scores[i][g];
            }
            return better;
        });
        if (!beaten) front.push_back(places[i]);
    }
    return front;
}

} // namespace tranche
