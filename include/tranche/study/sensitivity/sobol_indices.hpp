// Sobol' indices: which inputs the spread of a result comes from, alone and together with others.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/statistics/sample_summary.hpp>
#include <tranche/study/random/sobol_points.hpp>
#include <tranche/study/random/study_inputs.hpp>
#include <tranche/study/run/each_task.hpp>
#include <tranche/study/run/executors.hpp>
#include <tranche/study/sensitivity/detail/group_columns.hpp>
#include <tranche/study/sensitivity/detail/interval_text.hpp>
#include <tranche/study/sensitivity/detail/model_points.hpp>
#include <tranche/study/sensitivity/sensitivity_options.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// A share of the variance of an output, 0 or more, and its confidence interval.
struct sobol_index {
    double value = 0.0; ///< the estimate, zero where that was below it
    confidence_interval interval{};
    bool above_zero = false; ///< whether the interval says so; if not, it is not distinguishable from zero

    /// "0.314 (0.309 to 0.319)", or "not distinguishable from zero (at most 0.002)".
    [[nodiscard]] std::string text() const { return detail::interval_text(value, interval, above_zero); }
    friend bool operator==(const sobol_index&, const sobol_index&) = default;
};

/// What an output owes to an input, or to a group of them.
struct input_sensitivity {
    std::string name{};
    sobol_index first_order{}; ///< by which share the variance would shrink on average, were it known
    sobol_index total{};       ///< the share that would remain, were it alone unknown

    friend bool operator==(const input_sensitivity&, const input_sensitivity&) = default;
};

struct output_sensitivity {
    std::string name{};
    double mean = 0.0, standard_deviation = 0.0;
    bool varies = false; ///< if not, all indices are zero
    std::vector<input_sensitivity> inputs{};

    friend bool operator==(const output_sensitivity&, const output_sensitivity&) = default;
};

struct sensitivities {
    std::vector<output_sensitivity> outputs{};
    std::uint64_t calls = 0; ///< of the model

    friend bool operator==(const sensitivities&, const sensitivities&) = default;
};

namespace detail {

/// What one randomisation found out of one output; squares of differences are sums over its points.
struct jansen_sums {
    double shift = 0.0, sum = 0.0, squares = 0.0; ///< of f(A) and f(B), less the shift
    std::vector<double> first{}, total{};         ///< (f(B) - f(AB))², (f(A) - f(AB))², a column
    double variance = 0.0;
};

/// Ratio of two means over randomisations, with the interval that its linearisation gives (Cochran 1977, *Sampling Techniques*,
/// section 2.11, from memory).
[[nodiscard]] inline sobol_index ratio_index(std::span<const double> parts, std::span<const double> wholes, double t) {
    const auto n = static_cast<double>(parts.size());
    double part = 0.0, whole = 0.0, squares = 0.0;
    for (std::size_t r = 0; r < parts.size(); ++r) {
        part += parts[r];
        whole += wholes[r];
    }
    const double ratio = part / whole;
    for (std::size_t r = 0; r < parts.size(); ++r)
        squares += (parts[r] - ratio * wholes[r]) * (parts[r] - ratio * wholes[r]);
    const double half = t * std::sqrt(squares / (n * (n - 1.0))) / (whole / n);
    sobol_index index{.value = std::max(0.0, ratio),
                      .interval = {std::max(0.0, ratio - half), std::max(0.0, ratio + half)}};
    index.above_zero = ratio - half > 0.0;
    return index;
}

/// One randomisation: asks the model at A and B and, for each column, at A with that column of B.
template <class Model>
class jansen_sample {
public:
    jansen_sample(const study_inputs& inputs, const std::vector<std::string>& outputs,
                  const std::vector<input_column>& columns, const Model& model)
        : inputs_(inputs), outputs_(outputs), columns_(columns), model_(model) {}

    [[nodiscard]] std::vector<jansen_sums> sums(const sobol_points& net, std::uint32_t points,
                                                std::size_t randomisation) const {
        const std::size_t d = inputs_.size(), m = outputs_.size();
        std::vector<jansen_sums> all(m);
        for (jansen_sums& s : all) {
            s.first.resize(columns_.size());
            s.total.resize(columns_.size());
        }
        std::vector<double> uniforms(2 * d), a(d), b(d), at_a(m), at_b(m), mixed(m);
        const auto name_of = [&](std::size_t k) { return outputs_[k]; };
        net.each_point(points, uniforms, [&](std::uint32_t p) {
            inputs_.values(std::span<const double>(uniforms).first(d), a);
            inputs_.values(std::span<const double>(uniforms).last(d), b);
            ask_model(model_, inputs_, a, at_a, {randomisation, p, ", sample A"}, name_of);
            ask_model(model_, inputs_, b, at_b, {randomisation, p, ", sample B"}, name_of);
            for (std::size_t k = 0; k < m; ++k) {
                jansen_sums& s = all[k];
                if (p == 0) s.shift = at_a[k];
                const double from_a = at_a[k] - s.shift, from_b = at_b[k] - s.shift;
                s.sum += from_a + from_b;
                s.squares += from_a * from_a + from_b * from_b;
            }
            for (std::size_t c = 0; c < columns_.size(); ++c) {
                // Columns are independent of each other, so values go over as they are. They come back below.
                for (const std::size_t i : columns_[c].inputs) std::swap(a[i], b[i]);
                ask_model(model_, inputs_, a, mixed, {randomisation, p, ", sample A with a column of B"}, name_of);
                for (const std::size_t i : columns_[c].inputs) std::swap(a[i], b[i]);
                for (std::size_t k = 0; k < m; ++k) {
                    const double first = at_b[k] - mixed[k], total = at_a[k] - mixed[k];
                    all[k].first[c] += first * first;
                    all[k].total[c] += total * total;
                }
            }
        });
        const double values = 2.0 * points;
        for (jansen_sums& s : all) s.variance = std::max(0.0, (s.squares - s.sum * s.sum / values) / values);
        return all;
    }

private:
    const study_inputs& inputs_;
    const std::vector<std::string>& outputs_;
    const std::vector<input_column>& columns_;
    const Model& model_;
};

/// The indices of output k from what all randomisations found.
[[nodiscard]] inline output_sensitivity sensitivity_of(const std::string& name, std::size_t k,
                                                       const std::vector<input_column>& columns,
                                                       const std::vector<std::vector<jansen_sums>>& all,
                                                       const sensitivity_options& options) {
    output_sensitivity found{.name = name};
    const double points = options.points, n = static_cast<double>(all.size());
    std::vector<double> wholes, parts(all.size());
    double variance = 0.0;
    const double shift = all[0][k].shift;
    for (const auto& r : all) {
        wholes.push_back(r[k].variance);
        variance += r[k].variance / n;
        found.mean += (r[k].shift - shift + r[k].sum / (2.0 * points)) / n;
    }
    double between = 0.0; // nets differ in their means too, which is part of the variance where points are few
    for (const auto& r : all) {
        const double away = r[k].shift - shift + r[k].sum / (2.0 * points) - found.mean;
        between += away * away / n;
    }
    found.mean += shift;
    if (!std::isfinite(variance + between))
        throw invalid_input(name, "values too large to square", "values below 10^150");
    found.standard_deviation = std::sqrt(variance + between);
    // What is less than that is rounding.
    found.varies = variance > 0.0 && found.standard_deviation > 1e-13 * std::abs(found.mean);
    if (!found.varies) found.standard_deviation = 0.0;
    const double t = student_t(options.confidence, n - 1.0);
    for (std::size_t c = 0; c < columns.size(); ++c) {
        input_sensitivity input{.name = columns[c].name};
        if (found.varies) {
            for (std::size_t r = 0; r < all.size(); ++r)
                parts[r] = all[r][k].variance - all[r][k].first[c] / (2.0 * points);
            input.first_order = ratio_index(parts, wholes, t);
            for (std::size_t r = 0; r < all.size(); ++r) parts[r] = all[r][k].total[c] / (2.0 * points);
            input.total = ratio_index(parts, wholes, t);
        }
        found.inputs.push_back(std::move(input));
    }
    return found;
}

} // namespace detail

/// First-order and total Sobol' indices of each output: V[E(Y | X_i)] / V(Y) and E[V(Y | X_~i)] / V(Y), with X_~i all inputs but
/// the i-th (Sobol' 1993; Homma and Saltelli 1996, Reliab. Eng. Syst. Saf. 52:1). A group of inputs counts as one.
///
/// Each randomisation takes n scrambled Sobol' points in twice as many dimensions as there are inputs: the halves are samples A and B,
/// and AB_i is A with the i-th column of B (Saltelli 2002, Comput. Phys. Commun. 145:280). By Jansen's estimators (1999, Comput. Phys.
/// Commun. 117:35) the first order is V - Σ(f(B) - f(AB_i))² / 2n, the total Σ(f(A) - f(AB_i))² / 2n, both over V, the variance of
/// f(A) and f(B). Numerators and V are averaged over randomisations, and their spread gives the interval, by Student's t. An index below
/// zero is a zero that its interval does not tell from one. An output that does not vary has zeros and says so.
///
/// `model` is called with the inputs' values in their order, and fills as many outputs as there are names, (std::span<const double>,
/// std::span<double>), or gives the only one as a double. It is const, called randomisations × n ×
/// (columns + 2) times, and by an executor with several threads from all of them at once; the answer is the same bits. Throws
/// `invalid_input` for options that are none, no outputs, correlated inputs that are not in one group (named), and an output that is
/// not finite, naming the point; what the model throws comes nested in a `std::runtime_error` that names the point.
template <class Model, class Executor = serial>
[[nodiscard]] sensitivities sobol_indices(const study_inputs& inputs, const std::vector<std::string>& outputs,
                                          const Model& model, const sensitivity_options& options = {},
                                          const Executor& executor = {}) {
    static_assert(detail::fills_outputs<Model> || std::is_invocable_r_v<double, const Model&, std::span<const double>>,
                  "a model is called with (std::span<const double> values, std::span<double> outputs), or gives a "
                  "double for values");
    detail::require_points(options.points, options.randomisations, options.confidence);
    if (outputs.empty()) throw invalid_input("outputs", "none", "at least one");
    if (!detail::fills_outputs<Model> && outputs.size() > 1)
        throw invalid_input("outputs", std::to_string(outputs.size()), "1, for the model gives one number");
    const std::vector<detail::input_column> columns = detail::grouped_columns(inputs, options.groups);
    const detail::jansen_sample<Model> sample(inputs, outputs, columns, model);
    const sobol_points net(2 * inputs.size(), detail::net_of(options.seed, 0));
    std::vector<std::vector<detail::jansen_sums>> all(options.randomisations);
    each_task(executor, all.size(), [&](std::uint64_t task) {
        const auto r = static_cast<std::size_t>(task);
        all[r] = sample.sums(net.randomised(detail::net_of(options.seed, r)), options.points, r);
    });
    sensitivities found{.calls = std::uint64_t{options.points} * options.randomisations * (columns.size() + 2)};
    for (std::size_t k = 0; k < outputs.size(); ++k)
        found.outputs.push_back(detail::sensitivity_of(outputs[k], k, columns, all, options));
    return found;
}

/// The same of a model that gives one number, called "result".
template <class Model>
[[nodiscard]] output_sensitivity sobol_indices(const study_inputs& inputs, const Model& model,
                                               const sensitivity_options& options = {}) {
    return std::move(sobol_indices(inputs, {"result"}, model, options).outputs.front());
}

} // namespace tranche
