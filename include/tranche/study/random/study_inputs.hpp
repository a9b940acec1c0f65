// What is drawn for each replicate: named inputs, independent or correlated by a Gaussian copula.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <Eigen/Core>

#include <tranche/study/random/detail/copula.hpp>
#include <tranche/study/random/distribution.hpp>
#include <tranche/study/random/random_stream.hpp>
#include <tranche/study/random/random_streams.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// An uncertain figure of a study: what it is called, and how it is spread.
struct study_input {
    std::string name{};
    distribution values = distribution::certain(0.0);

    friend bool operator==(const study_input&, const study_input&) = default;
};

/// The inputs of a study, drawn together. Uniform numbers in, one an input and in their order; values out. A const object is safe to
/// share between threads.
///
/// Correlated ones go through a Gaussian copula: z = L Φ⁻¹(u) with the Cholesky factor L of the correlation matrix, and each value is
/// its distribution's quantile of Φ(z). The matrix is that of the normal z; for normal inputs that is the correlation of the values
/// (of lognormal ones, of their logarithms), for others a little more than theirs. `normal_correlation` makes it of rank correlations,
/// which are the same for all shapes. Source: Nelsen, *An Introduction to Copulas* (2006), section 2.3 (from memory).
class study_inputs {
public:
    /// Independent inputs. Throws `invalid_input` for none, and for names that are empty or the same.
    explicit study_inputs(std::vector<study_input> inputs) : inputs_(std::move(inputs)) { require_names(); }

    /// Correlated by `correlation`, of the normal z, n×n for n inputs. Throws `invalid_input`, naming entries by the inputs, unless it
    /// is square and of that size, finite, symmetric (to 10^-12), 1 on its diagonal and positive definite. Factors are rounded to
    /// 2^-32, so that every compiler and vector unit has the same. O(n³), and O(n²) a draw.
    study_inputs(std::vector<study_input> inputs, const Eigen::MatrixXd& correlation) : inputs_(std::move(inputs)) {
        require_names();
        std::vector<std::string> names;
        for (const study_input& input : inputs_) names.push_back(input.name);
        factor_ = detail::copula_factor(correlation, names);
    }

    /// How many inputs there are, 1 or more. Throws nothing.
    [[nodiscard]] std::size_t size() const { return inputs_.size(); }
    /// Whether they were made with a correlation matrix. Throws nothing.
    [[nodiscard]] bool correlated() const { return !factor_.empty(); }
    /// Whether two inputs are, by their entry of the matrix. O(n). `i` and `j` are below `size()`, which is not
    /// checked. Throws nothing.
    [[nodiscard]] bool correlated(std::size_t i, std::size_t j) const {
        if (!correlated() || i == j) return i == j;
        double entry = 0.0;
        for (std::size_t k = 0; k <= std::min(i, j); ++k)
            entry += factor_[i * (i + 1) / 2 + k] * factor_[j * (j + 1) / 2 + k];
        return std::abs(entry) > 1e-8; // the factors are rounded to 2^-32
    }
    /// As they were given. Throws nothing.
    [[nodiscard]] const std::vector<study_input>& inputs() const { return inputs_; }
    [[nodiscard]] const study_input& operator[](std::size_t i) const { return inputs_.at(i); }

    /// The place of the input called `name`. Throws `invalid_input` where there is none. O(n).
    [[nodiscard]] std::size_t place_of(std::string_view name) const {
        for (std::size_t i = 0; i < size(); ++i)
            if (inputs_[i].name == name) return i;
        std::string known;
        for (const study_input& input : inputs_) known += (known.empty() ? "" : ", ") + input.name;
        throw invalid_input("input", std::string(name), "one of " + known);
    }

    /// Values of n uniform numbers, each above 0 and below 1. Throws `invalid_input` for others, and for lists that are not of n. O(n)
    /// quantiles, and n² / 2 products where correlated. Both lists may be the same.
    void values(std::span<const double> uniforms, std::span<double> out) const {
        if (uniforms.size() != size() || out.size() != size()) refuse_sizes(uniforms.size(), out.size());
        for (const double u : uniforms)
            if (!(u > 0.0 && u < 1.0)) detail::refuse_uniform(u);
        convert(uniforms, out);
    }

    /// The same of the next n numbers of a stream. Throws as `values` and `random_stream::next_bits`.
    void draw(random_stream& stream, std::span<double> out) const {
        if (out.size() != size()) refuse_sizes(out.size(), out.size());
        stream.next_uniforms(out);
        convert(out, out);
    }

    /// The same of several replicates at once: input i of replicate j goes to `columns[i * streams.stride() + j]`, to the bits that `draw`
    /// of that stream gives. Throws `invalid_input` unless `columns` has n × `stride()` numbers.
    void draw(const random_streams& streams, std::span<double> columns) const {
        const std::size_t stride = streams.stride();
        if (columns.size() != size() * stride) refuse_sizes(columns.size(), columns.size());
        streams.uniforms(size(), columns);
        const auto column = [&](std::size_t i) { return columns.subspan(i * stride, streams.size()); };
        if (!correlated()) {
            for (std::size_t i = 0; i < size(); ++i) inputs_[i].values.values_at(column(i));
            return;
        }
        for (std::size_t i = 0; i < size(); ++i)
            for (double& u : column(i)) u = detail::normal_quantile(u);
        for (std::size_t i = size(); i-- > 0;)
            for (std::size_t j = 0; j < streams.size(); ++j)
                columns[i * stride + j] = copula_value(i, &columns[j], stride);
    }

private:
    [[noreturn]] TRANCHE_COLD void refuse_sizes(std::size_t uniforms, std::size_t out) const {
        throw invalid_input("uniforms", std::to_string(uniforms) + " for " + std::to_string(out),
                            std::to_string(size()) + ", one an input");
    }

    /// Of as many as there are inputs, each above 0 and below 1.
    void convert(std::span<const double> uniforms, std::span<double> out) const {
        const study_input* input = inputs_.data();
        if (!correlated()) {
            for (std::size_t i = 0; i < out.size(); ++i) out[i] = input[i].values.value_at(uniforms[i]);
            return;
        }
        for (std::size_t i = 0; i < out.size(); ++i) out[i] = detail::normal_quantile(uniforms[i]);
        // From the last, for the earlier z are wanted as they are.
        for (std::size_t i = out.size(); i-- > 0;) out[i] = copula_value(i, out.data(), 1);
    }

    /// The value of input i, of the independent z of inputs 0 to i, which lie `stride` apart.
    [[nodiscard]] double copula_value(std::size_t i, const double* z, std::size_t stride) const {
        double sum = 0.0;
        for (std::size_t k = 0; k <= i; ++k) sum += detail::unfused(factor_[i * (i + 1) / 2 + k] * z[k * stride]);
        return inputs_[i].values.quantile_of_normal(sum);
    }

    void require_names() const {
        if (inputs_.empty()) throw invalid_input("inputs", "none", "at least one");
        for (std::size_t i = 0; i < size(); ++i) {
            const std::string field = "inputs[" + std::to_string(i) + "].name";
            if (inputs_[i].name.empty()) throw invalid_input(field, "nothing", "a name");
            for (std::size_t j = 0; j < i; ++j)
                if (inputs_[i].name == inputs_[j].name)
                    throw invalid_input(field, inputs_[i].name, "a name that no other input has");
        }
    }

    std::vector<study_input> inputs_;
    std::vector<double> factor_{}; // rows of the lower triangle, one behind the other; empty where independent
};

/// The correlation matrix of the normal z of which values have the rank correlations (Spearman's) `rank`: 2 sin(π ρ /
/// 6), entry by entry (Pearson 1907, from memory). Whether that is positive definite is seen by `study_inputs`. Plain
/// numbers, -1 to 1; nothing is checked here, and nothing thrown but for lack of memory.
[[nodiscard]] inline Eigen::MatrixXd normal_correlation(const Eigen::MatrixXd& rank) {
    Eigen::MatrixXd normal = rank;
    for (Eigen::Index i = 0; i < rank.rows(); ++i)
        for (Eigen::Index j = 0; j < rank.cols(); ++j)
            normal(i, j) = rank(i, j) == 1.0 ? 1.0 : 2.0 * std::sin(std::numbers::pi / 6.0 * rank(i, j));
    return normal;
}

} // namespace tranche
