// The points at which a sensitivity analysis asks a model, and what it says of a model that has no answer there.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <span>
#include <stdexcept>
#include <string>
#include <utility>

#include <tranche/study/random/study_inputs.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// Which net belongs to a randomisation of a seed.
[[nodiscard]] constexpr std::uint64_t net_of(std::uint64_t seed, std::size_t randomisation) {
    return seed * 0x9E3779B97F4A7C15U + static_cast<std::uint64_t>(randomisation);
}

/// A point, for messages.
struct point_place {
    std::size_t randomisation = 0;
    std::uint32_t point = 0;
    const char* sample = ""; ///< ", sample B", where a point has several
};

/// "randomisation 3, point 17 (width = 210, fat cover = 12.5)".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string model_place(const study_inputs& inputs, std::span<const double> values,
                                                   const point_place& at) {
    std::string text =
        "randomisation " + std::to_string(at.randomisation) + ", point " + std::to_string(at.point) + at.sample + " (";
    for (std::size_t i = 0; i < values.size(); ++i)
        text += (i == 0 ? "" : ", ") + inputs[i].name + " = " + shown(values[i]);
    return text + ')';
}
template <class = when_called>
[[noreturn]] TRANCHE_COLD void refuse_output(const std::string& output, double value, const std::string& place) {
    throw invalid_input(output + " at " + place, shown(value), "a finite number");
}
/// What the model threw, with where it did; the model's exception is nested.
template <class = when_called>
[[noreturn]] TRANCHE_COLD void rethrow_with_place(const std::exception& what, const std::string& place) {
    std::throw_with_nested(std::runtime_error("the model threw at " + place + ": " + what.what()));
}

/// A model of several outputs fills the second span; one of a single output may give it.
template <class Model>
inline constexpr bool fills_outputs = std::invocable<const Model&, std::span<const double>, std::span<double>>;

/// Calls the model and checks what it says; `name_of(k)` is output k.
template <class Model, class Names>
void ask_model(const Model& model, const study_inputs& inputs, std::span<const double> values,
               std::span<double> outputs, const point_place& at, const Names& name_of) {
    try {
        if constexpr (fills_outputs<Model>)
            model(values, outputs);
        else
            outputs[0] = model(values);
    } catch (const std::exception& e) {
        rethrow_with_place(e, model_place(inputs, values, at));
    }
    for (std::size_t k = 0; k < outputs.size(); ++k)
        if (!std::isfinite(outputs[k])) refuse_output(name_of(k), outputs[k], model_place(inputs, values, at));
}

} // namespace tranche::detail
