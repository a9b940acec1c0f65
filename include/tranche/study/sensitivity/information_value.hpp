// Value of information: what knowing an input before deciding is worth, so which measurement is worth taking.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
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
#include <tranche/study/sensitivity/detail/interval_text.hpp>
#include <tranche/study/sensitivity/detail/model_points.hpp>
#include <tranche/study/sensitivity/sensitivity_options.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

struct information_options {
    std::uint32_t points = 1024;     ///< of each randomisation: a power of two, 2 to 2^20
    std::size_t randomisations = 16; ///< 16 to 4096
    std::size_t classes =
        32; ///< how exactly an input becomes known: to one of so many classes, each as likely; 2 to 4096
    fraction confidence = 0.95;
    std::uint64_t seed = 1;

    friend bool operator==(const information_options&, const information_options&) = default;
};

/// What a decision is worth on average, as little as is known now.
struct decision_worth {
    std::string name{};
    double mean = 0.0;
    confidence_interval interval{};

    friend bool operator==(const decision_worth&, const decision_worth&) = default;
};

/// What knowing something before deciding adds to that, in the unit of the worth.
struct information_value {
    std::string name{};
    double gain = 0.0; ///< zero or more
    confidence_interval interval{};
    bool above_zero = false; ///< whether the interval says so; if not, it is not distinguishable from zero
    fraction changes = 0.0;  ///< how often another decision is made for it

    /// "1.25 (1.20 to 1.31)", or "not distinguishable from zero (at most 0.02)".
    [[nodiscard]] std::string text() const { return detail::interval_text(gain, interval, above_zero); }
    friend bool operator==(const information_value&, const information_value&) = default;
};

struct information_values {
    std::vector<decision_worth> decisions{};
    std::size_t best = 0; ///< the decision that is worth most on average, the first of equals
    std::vector<information_value> inputs{};
    information_value everything{}; ///< knowing all of them, which nothing exceeds

    /// The inputs by what knowing them is worth, most first.
    [[nodiscard]] std::vector<information_value> most_first() const {
        std::vector<information_value> order = inputs;
        std::stable_sort(order.begin(), order.end(), [](const auto& a, const auto& b) { return a.gain > b.gain; });
        return order;
    }
    friend bool operator==(const information_values&, const information_values&) = default;
};

namespace detail {

/// Draws of all randomisations, one behind the other: values of the inputs and worths of the decisions.
struct decision_draws {
    std::size_t points, randomisations, inputs, decisions;
    std::vector<double> values{}, worths{};

    [[nodiscard]] std::size_t size() const { return points * randomisations; }
    [[nodiscard]] double value(std::size_t draw, std::size_t input) const { return values[draw * inputs + input]; }
    [[nodiscard]] double worth(std::size_t draw, std::size_t decision) const {
        return worths[draw * decisions + decision];
    }
};

/// Mean over randomisations and what Student's t adds on either side.
struct spread_mean {
    double mean = 0.0, half = 0.0;
};
[[nodiscard]] inline spread_mean interval_mean(std::span<const double> values, fraction confidence) {
    const moments m(values);
    const auto n = static_cast<double>(values.size());
    return {m.mean, student_t(confidence, n - 1.0) * std::sqrt(m.squares / (n * (n - 1.0)))};
}

[[nodiscard]] inline information_value value_between(std::string name, const spread_mean& least,
                                                     const spread_mean& most) {
    information_value v{.name = std::move(name)};
    const double low = std::min(least.mean, most.mean), high = std::max(least.mean, most.mean);
    v.gain = std::max(0.0, 0.5 * (low + high));
    v.interval = {std::max(0.0, std::min(least.mean - least.half, most.mean - most.half)),
                  std::max(0.0, std::max(least.mean + least.half, most.mean + most.half))};
    v.above_zero = v.interval.low > 0.0;
    return v;
}

/// Sums of worths by randomisation, class and decision, and what follows of them.
template <class = when_called>
class class_worths {
public:
    /// `class_of` the draws, below `classes`.
    class_worths(const decision_draws& draws, std::size_t classes, const std::vector<std::size_t>& class_of)
        : draws_(draws), classes_(classes), sums_(draws.randomisations * classes * draws.decisions),
          all_(classes * draws.decisions), counts_(classes) {
        for (std::size_t i = 0; i < draws.size(); ++i) {
            const std::size_t r = i / draws.points, c = class_of[i];
            ++counts_[c];
            for (std::size_t d = 0; d < draws.decisions; ++d) {
                sums_[(r * classes + c) * draws.decisions + d] += draws.worth(i, d);
                all_[c * draws.decisions + d] += draws.worth(i, d);
                halves_[r % 2][c * draws.decisions + d] += draws.worth(i, d);
            }
        }
    }
    /// The best decision in a class by all draws, or by those of the randomisations that are even (0) or odd (1). The first of equals.
    [[nodiscard]] std::size_t best(std::size_t c) const { return best_of(all_, c); }
    [[nodiscard]] std::size_t best_of_half(std::size_t half, std::size_t c) const { return best_of(halves_[half], c); }
    /// What the draws of a randomisation in a class are worth by a decision, as a mean over all of its draws.
    [[nodiscard]] double worth(std::size_t r, std::size_t c, std::size_t d) const {
        return sums_[(r * classes_ + c) * draws_.decisions + d] / static_cast<double>(draws_.points);
    }
    [[nodiscard]] std::size_t classes() const { return classes_; }
    [[nodiscard]] fraction share(std::size_t c) const {
        return static_cast<double>(counts_[c]) / static_cast<double>(draws_.size());
    }

private:
    [[nodiscard]] std::size_t best_of(const std::vector<double>& sums, std::size_t c) const {
        const double* const from = &sums[c * draws_.decisions];
        return static_cast<std::size_t>(std::max_element(from, from + draws_.decisions) - from);
    }

    const decision_draws& draws_;
    std::size_t classes_;
    std::vector<double> sums_, all_;
    std::array<std::vector<double>, 2> halves_{all_, all_};
    std::vector<std::size_t> counts_;
};

/// Classes of an input, each as likely, by its values in all draws; values alike are in one class.
template <class = when_called>
[[nodiscard]] std::vector<std::size_t> classes_of(const decision_draws& draws, std::size_t input, std::size_t classes) {
    std::vector<double> sorted(draws.size());
    for (std::size_t i = 0; i < draws.size(); ++i) sorted[i] = draws.value(i, input);
    std::sort(sorted.begin(), sorted.end());
    std::vector<double> bounds;
    for (std::size_t c = 1; c < classes; ++c) bounds.push_back(sorted[c * sorted.size() / classes]);
    bounds.erase(std::unique(bounds.begin(), bounds.end()), bounds.end());
    std::vector<std::size_t> found(draws.size());
    for (std::size_t i = 0; i < draws.size(); ++i)
        found[i] = static_cast<std::size_t>(std::upper_bound(bounds.begin(), bounds.end(), draws.value(i, input)) -
                                            bounds.begin());
    return found;
}

template <class = when_called>
[[nodiscard]] information_values information_of(const study_inputs& inputs, const std::vector<std::string>& decisions,
                                                const decision_draws& draws, const information_options& options) {
    information_values found;
    const class_worths<> whole(draws, 1, std::vector<std::size_t>(draws.size(), 0));
    found.best = whole.best(0);
    std::vector<double> low(draws.randomisations), high(draws.randomisations);
    for (std::size_t d = 0; d < decisions.size(); ++d) {
        for (std::size_t r = 0; r < low.size(); ++r) low[r] = whole.worth(r, 0, d);
        const spread_mean m = interval_mean(low, options.confidence);
        found.decisions.push_back({decisions[d], m.mean, {m.mean - m.half, m.mean + m.half}});
    }
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        const class_worths<> by_class(draws, options.classes, classes_of(draws, i, options.classes));
        fraction changes = 0.0;
        for (std::size_t c = 0; c < options.classes; ++c)
            if (by_class.share(c) > 0.0 && by_class.best(c) != found.best) changes += by_class.share(c);
        // By decisions of the other half, and of all; less what is decided without knowing. Each draw's own part in these errs to the
        // low side of the one and to the high side of the other.
        std::array<std::vector<double>, 2> half_low;
        for (std::size_t r = 0; r < high.size(); ++r) {
            const std::size_t other = 1 - r % 2, plain = whole.best_of_half(other, 0);
            double least = 0.0;
            high[r] = 0.0;
            for (std::size_t c = 0; c < options.classes; ++c) {
                least += by_class.worth(r, c, by_class.best_of_half(other, c)) - by_class.worth(r, c, found.best);
                high[r] += by_class.worth(r, c, by_class.best(c)) - by_class.worth(r, c, plain);
            }
            half_low[r % 2].push_back(least);
        }
        // Given what the one half decides, the draws of the other are independent; the halves are taken for wholly dependent.
        const spread_mean even = interval_mean(half_low[0], options.confidence),
                          odd = interval_mean(half_low[1], options.confidence);
        const spread_mean least{0.5 * (even.mean + odd.mean), 0.5 * (even.half + odd.half)};
        // Of an input that is always the same there is nothing to know.
        if (std::any_of(draws.values.begin(), draws.values.end(), [&, at = std::size_t{0}](double v) mutable {
                return at++ % draws.inputs == i && v != draws.value(0, i);
            }))
            found.inputs.push_back(value_between(inputs[i].name, least, interval_mean(high, options.confidence)));
        else
            found.inputs.push_back({.name = inputs[i].name});
        found.inputs.back().changes = changes;
    }
    std::size_t others = 0;
    std::fill(low.begin(), low.end(), 0.0);
    for (std::size_t i = 0; i < draws.size(); ++i) {
        std::size_t best = found.best;
        for (std::size_t d = 0; d < draws.decisions; ++d)
            if (draws.worth(i, d) > draws.worth(i, best)) best = d;
        others += best != found.best;
        low[i / draws.points] +=
            (draws.worth(i, best) - draws.worth(i, found.best)) / static_cast<double>(draws.points);
    }
    const spread_mean m = interval_mean(low, options.confidence);
    found.everything = value_between("everything", m, m);
    found.everything.changes = static_cast<double>(others) / static_cast<double>(draws.size());
    return found;
}

} // namespace detail

/// The expected value of partial perfect information, E[max_d E(worth of d | X_i)] - max_d E(worth of d), for each input, and that of
/// knowing everything (Raiffa and Schlaifer 1961, *Applied Statistical Decision Theory*). Inputs may be correlated: knowing one then
/// tells of others.
///
/// An input becomes known to one of `classes`, each as likely (after Strong and Oakley 2013, Med. Decis. Making 33:755), so the figure
/// is what a measurement as exact as that is worth, and a little less than what knowing it exactly would be. Two estimates bound it:
/// decisions in each class by one half of the randomisations, worth what they are in the other, err to the low side; decisions by all
/// draws to the high side. `gain` is half way between them, and the interval goes from the lower end of one to the upper end of the
/// other, by Student's t over randomisations. Where it reaches zero, knowing the input is not distinguishable from worthless; never is
/// it below.
///
/// `model` is called with (std::span<const double> values, std::span<double> worths), randomisations × points times, and says what
/// each decision would be worth, in money or portions, more being better. Throws `invalid_input` for options that are none, no decisions
/// and a worth that is not finite, naming the point; what the model throws comes nested in a `std::runtime_error` that names the point.
/// O(draws × (inputs log draws + decisions)).
template <class Model, class Executor = serial>
[[nodiscard]] information_values value_of_information(const study_inputs& inputs,
                                                      const std::vector<std::string>& decisions, const Model& model,
                                                      const information_options& options = {},
                                                      const Executor& executor = {}) {
    static_assert(detail::fills_outputs<Model>,
                  "a model is called with (std::span<const double> values, std::span<double> worths)");
    detail::require_points(options.points, options.randomisations, options.confidence);
    if (options.points > (1U << 20U))
        throw invalid_input("points", std::to_string(options.points), "at most 2^20, for all draws are kept");
    if (options.classes < 2 || options.classes > 4096)
        throw invalid_input("classes", std::to_string(options.classes), "2 to 4096");
    if (decisions.empty()) throw invalid_input("decisions", "none", "at least one");
    detail::decision_draws draws{options.points, options.randomisations, inputs.size(), decisions.size()};
    draws.values.resize(draws.size() * draws.inputs);
    draws.worths.resize(draws.size() * draws.decisions);
    const sobol_points first(inputs.size(), detail::net_of(options.seed, 0));
    const auto name_of = [&](std::size_t d) { return decisions[d]; };
    each_task(executor, options.randomisations, [&](std::uint64_t task) {
        const auto r = static_cast<std::size_t>(task);
        const sobol_points net = first.randomised(detail::net_of(options.seed, r));
        std::vector<double> uniforms(inputs.size());
        net.each_point(options.points, uniforms, [&](std::uint32_t p) {
            const std::size_t draw = r * options.points + p;
            const std::span<double> values(&draws.values[draw * draws.inputs], draws.inputs);
            inputs.values(uniforms, values);
            detail::ask_model(model, inputs, values, {&draws.worths[draw * draws.decisions], draws.decisions}, {r, p},
                              name_of);
        });
    });
    return detail::information_of(inputs, decisions, draws, options);
}

} // namespace tranche
