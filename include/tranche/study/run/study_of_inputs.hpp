// A study of a plain function: inputs that are spread, a function of their values, and what it gives.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/study/random/study_inputs.hpp>
#include <tranche/study/run/study_model.hpp>
#include <tranche/study/summary/study_output.hpp>
#include <tranche/units/detail/column_arithmetic.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// A model (see `study_model`) of a function that takes a value of each input and gives plain numbers, as `sobol_indices` takes one: called
/// with the values it returns the only output, or it is called with values and a span of outputs to fill. Each output is divided by its
/// unit and rounded to a whole number, halves away from zero. Inputs are drawn from the stream of purpose 0, of several replicates at
/// once, to the bits that `study_inputs::draw` gives.
///
/// Where an output is no finite number, or too large (`most_of_output`), the replicate fails, and what is said names the output and the
/// values of the inputs. What the function throws fails the replicate too.
template <class Function>
requires std::invocable<const Function&, std::span<const double>> ||
    std::invocable<const Function&, std::span<const double>, std::span<double>>
class study_of_inputs {
public:
    /// What a thread uses again and again. Made by `workspace()`.
    struct workspace_type {
        std::vector<double> columns{}; ///< values of an input after the other, of several replicates
        std::vector<double> rows{};    ///< the same, replicate by replicate
        std::vector<double> given{};   ///< what the function gives for each
    };

    /// Throws `invalid_input` for outputs that are none, and unless there is one if the function returns it.
    study_of_inputs(study_inputs inputs, std::vector<study_output> outputs, Function function)
        : inputs_(std::move(inputs)), about_{std::move(outputs), {}}, function_(std::move(function)) {
        for (std::size_t i = 0; i < about_.outputs.size(); ++i)
            validate(about_.outputs[i], "outputs[" + std::to_string(i) + ']');
        if (about_.outputs.empty() || (!fills_ && about_.outputs.size() != 1))
            throw invalid_input("outputs", std::to_string(about_.outputs.size()),
                                fills_ ? "at least one" : "one, which the function returns");
    }

    /// The outputs; no reasons.
    [[nodiscard]] const study_outline& outline() const { return about_; }
    /// As they were given.
    [[nodiscard]] const study_inputs& inputs() const { return inputs_; }
    /// Empty.
    [[nodiscard]] workspace_type workspace() const { return {}; }

    /// Output i of replicate j goes to `outputs[i * block.size() + j]`.
    void operator()(const study_block& block, std::span<std::int64_t> outputs, workspace_type& workspace) const {
        const random_streams streams = block.streams();
        const std::size_t n = inputs_.size(), stride = streams.stride(), count = streams.size();
        workspace.columns.resize(n * stride);
        workspace.rows.resize(n * count);
        inputs_.draw(streams, workspace.columns);
        double* const rows = workspace.rows.data(); // which is where the compiler sees that it stays
        const double* column = workspace.columns.data();
        for (std::size_t i = 0; i < n; ++i, column += stride)
            for (std::size_t j = 0; j < count; ++j) rows[j * n + i] = column[j];
        give(count, outputs, workspace);
    }
    /// The outputs of one replicate, in their order.
    void operator()(const study_replicate& replicate, std::span<std::int64_t> outputs,
                    workspace_type& workspace) const {
        random_stream stream = replicate.stream();
        workspace.rows.resize(inputs_.size());
        inputs_.draw(stream, workspace.rows);
        give(1, outputs, workspace);
    }

private:
    static constexpr bool fills_ = std::invocable<const Function&, std::span<const double>, std::span<double>>;

    /// Calls the function for each row.
    void give(std::size_t count, std::span<std::int64_t> outputs, workspace_type& workspace) const {
        const std::size_t n = inputs_.size(), m = about_.outputs.size();
        workspace.given.assign(m * count, std::numeric_limits<double>::quiet_NaN()); // what stays so was not filled
        const double* row = workspace.rows.data();
        double* given = workspace.given.data();
        for (std::size_t j = 0; j < count; ++j, row += n, given += m) {
            if constexpr (fills_)
                function_(std::span(row, n), std::span(given, m));
            else
                *given = function_(std::span(row, n));
        }
        given = workspace.given.data();
        for (std::size_t i = 0; i < m; ++i)
            if (!make_whole(given + i, m, about_.outputs[i].unit, outputs.subspan(i * count, count)))
                refuse(i, workspace);
    }

    /// Numbers, which lie `stride` apart, over `unit`; false where some are too large, or none. Without a branch, so that several can be
    /// done at a time.
    [[nodiscard]] static bool make_whole(const double* numbers, std::size_t stride, double unit,
                                         std::span<std::int64_t> whole) {
        bool fit = true;
        for (std::size_t j = 0; j < whole.size(); ++j) {
            const double number = numbers[j * stride] / unit, size = std::abs(number);
            fit = fit && size <= static_cast<double>(most_of_output);
            const std::int64_t nearest =
                detail::nearest_whole_of(size <= static_cast<double>(most_of_output) ? size : 0.0);
            whole[j] = number < 0.0 ? -nearest : nearest;
        }
        return fit;
    }
    /// The first replicate of the workspace where the output does not fit.
    [[noreturn]] TRANCHE_COLD void refuse(std::size_t output, const workspace_type& workspace) const {
        const std::size_t n = inputs_.size(), m = about_.outputs.size();
        const auto given_by = [&](std::size_t j) { return workspace.given[j * m + output]; };
        std::size_t j = 0;
        while (std::abs(given_by(j) / about_.outputs[output].unit) <= static_cast<double>(most_of_output)) ++j;
        std::string at;
        for (std::size_t i = 0; i < n; ++i)
            at += (i == 0 ? "" : ", ") + inputs_[i].name + " = " + detail::shown(workspace.rows[j * n + i]);
        throw invalid_input(about_.outputs[output].name, detail::shown(given_by(j)) + " at " + at,
                            "a finite number, up to 2^47 units");
    }

    study_inputs inputs_;
    study_outline about_;
    Function function_;
};

} // namespace tranche
