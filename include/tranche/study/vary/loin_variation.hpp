// How loins, hands and markets differ: figures with their spread and source, and which of them go together.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <Eigen/Core>

#include <tranche/loin/loin_factors.hpp>
#include <tranche/study/random/distribution.hpp>
#include <tranche/study/random/study_inputs.hpp>
#include <tranche/study/vary/varied.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// One figure that varies. `source` says where its spread comes from, or "common practice, no source"; it is not copied.
struct varied_figure {
    varied what = varied::weight;
    distribution values = distribution::certain(1.0); ///< in the figure's own unit: see `varied`
    std::string_view source{};

    friend bool operator==(const varied_figure&, const varied_figure&) = default;
};

/// Two figures that go together: the correlation of the normal numbers behind them, above -1 and below 1 (`study_inputs`).
struct varied_together {
    varied one = varied::weight, other = varied::loin_length;
    double correlation = 0.0;

    friend bool operator==(const varied_together&, const varied_together&) = default;
};

/// All that varies from loin to loin. What is not named stays as it was stated.
struct loin_variation {
    std::vector<varied_figure> figures{};
    std::vector<varied_together> together{};
    gives_way way = gives_way::width; ///< so that a loin has its weight

    /// The same with one figure more, or in place of the one that it has.
    [[nodiscard]] loin_variation with(varied_figure figure) const {
        loin_variation more = *this;
        for (varied_figure& known : more.figures)
            if (known.what == figure.what) {
                known = std::move(figure);
                return more;
            }
        more.figures.push_back(std::move(figure));
        return more;
    }
    [[nodiscard]] loin_variation with(varied what, distribution values) const {
        return with({what, std::move(values), {}});
    }

    friend bool operator==(const loin_variation&, const loin_variation&) = default;
};

/// Normal about a mean, in kilograms as `varied::weight` has it. Throws `invalid_input` for what is not finite, and a spread below zero.
[[nodiscard]] inline varied_figure weight_about(mass mean, mass standard_deviation, std::string_view source = {}) {
    return {varied::weight, distribution::normal(mean.value(), standard_deviation.value()), source};
}
/// A factor about 1 that is never below zero: lognormal, of mean 1 and this relative standard deviation. Throws `invalid_input` for a
/// spread that is below zero or not finite.
[[nodiscard]] inline varied_figure factor_about_one(varied what, fraction spread, std::string_view source = {}) {
    return {what, distribution::lognormal(1.0, spread), source};
}

/// The figures as inputs of a study, in their order and by their names. Throws `invalid_input` for none, for one that stands twice,
/// for a correlation of a figure that does not vary, of one with itself, or outside of -1 to 1, and for correlations that cannot
/// be together, by name.
template <class = detail::when_called>
[[nodiscard]] study_inputs inputs_of(const loin_variation& variation) {
    std::vector<study_input> inputs;
    for (const varied_figure& figure : variation.figures) {
        for (const study_input& before : inputs)
            if (before.name == name_of(figure.what))
                throw invalid_input("variation", before.name + " twice", "each figure once");
        inputs.push_back({std::string(name_of(figure.what)), figure.values});
    }
    if (variation.together.empty()) return study_inputs(std::move(inputs));
    const auto n = static_cast<Eigen::Index>(inputs.size());
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(n, n);
    const auto place = [&](varied what) {
        for (Eigen::Index i = 0; i < n; ++i)
            if (variation.figures[static_cast<std::size_t>(i)].what == what) return i;
        throw invalid_input("correlation of " + std::string(name_of(what)), "one of what does not vary",
                            "correlations of figures that vary");
    };
    for (const varied_together& pair : variation.together) {
        const std::string field =
            "correlation of " + std::string(name_of(pair.one)) + " and " + std::string(name_of(pair.other));
        const Eigen::Index i = place(pair.one), k = place(pair.other);
        if (i == k) throw invalid_input(field, detail::shown(pair.correlation), "one of two figures");
        if (!(std::abs(pair.correlation) < 1.0))
            throw invalid_input(field, detail::shown(pair.correlation), "above -1 and below 1");
        matrix(i, k) = matrix(k, i) = pair.correlation;
    }
    return study_inputs(std::move(inputs), matrix);
}

/// Throws what `inputs_of` throws; a variation of nothing is one.
template <class = detail::when_called>
void validate(const loin_variation& variation) {
    if (!variation.figures.empty() || !variation.together.empty()) (void)inputs_of(variation);
}

} // namespace tranche
