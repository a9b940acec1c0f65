// Loins cut by a hand that is not exact, with the scale's word taken or not: the same loins, the same hand, four ways to work.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <random>
#include <string_view>
#include <vector>

#include <boost/math/special_functions/erf.hpp>

#include <tranche/tranche.hpp>

namespace example {

using namespace tranche;
using namespace tranche::literals;

enum class way { by_thickness, by_marks, weighing_slabs, weighing_rest };
inline constexpr std::array<way, 4> all_ways{way::by_thickness, way::by_marks, way::weighing_slabs, way::weighing_rest};
[[nodiscard]] constexpr std::string_view name_of(way w) {
    switch (w) {
    case way::by_thickness: return "first plan, thickness after thickness";
    case way::by_marks: return "first plan, marks along the loin";
    case way::weighing_slabs: return "plans again, each slab weighed";
    case way::weighing_rest: return "plans again, slab and rest weighed";
    }
    return "";
}

/// What one loin came to.
struct outcome {
    double in_tolerance = 0.0; ///< portions within their limits
    double giveaway = 0.0;     ///< kilograms above the upper limit, for which nobody pays
    double value = 0.0;        ///< dollars
};

/// Invented scenario: steaks of 320 to 380 g from loins that were measured with a tape but not weighed. A steak is paid for
/// by weight, up to its upper limit; one below its lower limit goes to grind.
struct loop_scenario {
    cutting_spreads spreads{}; ///< how the loins, the hand and the scale differ: the defaults of the library
    profile meat = tabulate(measured_loin{.length = 42_cm,
                                          .stations = {{0_cm, 20.0_cm, 7.8_cm, 1.0_cm, 4_cm},
                                                       {20_cm, 19.0_cm, 7.5_cm, 0.8_cm, 3_cm},
                                                       {42_cm, 18.0_cm, 7.7_cm, 0.7_cm, 2_cm}}});
    std::vector<cut_spec> cuts{{.name = "steak",
                                .thickness = {22_mm, 45_mm},
                                .portion = {320_g, 380_g},
                                .trim = {.fat_cover = 6_mm, .tail = 25_mm}}};
    cutting_rules rules{.facing = 8_mm};
    price_list<usd> prices{.portions = {{"steak", {.by_weight = 36_usd / 1_kg}}},
                           .by_products = grind_at(9_usd / 1_kg)};

    [[nodiscard]] static by_destination<std::optional<unit_price<usd>>> grind_at(unit_price<usd> price) {
        by_destination<std::optional<unit_price<usd>>> worth;
        worth[destination::grind] = price;
        return worth;
    }
};

/// Standard normal numbers: raw draws of the Mersenne twister, whose values the standard fixes, through the inverse of the
/// normal distribution; the standard library's own distributions differ between platforms.
class normal_numbers {
public:
    explicit normal_numbers(std::uint64_t seed) : bits_(seed) {}
    [[nodiscard]] double next() {
        const double uniform = (static_cast<double>(bits_() >> 11U) + 0.5) * 0x1p-53;
        return -std::sqrt(2.0) * boost::math::erfc_inv(2.0 * uniform);
    }

private:
    std::mt19937_64 bits_;
};

/// One loin with its hand. Draws are made before anything is cut, so that every way of working meets the same.
struct simulated_loin {
    static constexpr std::size_t most_slabs = 60;
    double ratio, bias;
    std::array<double, most_slabs> knife{}, scale{}, rest_scale{}, slab{};

    simulated_loin(const cutting_spreads& s, std::uint64_t seed) {
        normal_numbers z(seed);
        ratio = 1.0 + s.ratio * z.next();
        bias = s.bias.value() * z.next();
        for (std::size_t i = 0; i < most_slabs; ++i) {
            knife[i] = s.knife.value() * z.next();
            scale[i] = s.scale.value() * z.next();
            rest_scale[i] = s.scale.value() * z.next();
            slab[i] = 1.0 + s.single_slab * z.next();
        }
    }
};

/// Cuts one loin in one way.
class loop_trial {
public:
    loop_trial(const loop_scenario& scenario, const simulated_loin& loin)
        : scenario_(&scenario), loin_(&loin), kept_(scenario.meat, scenario.cuts.front().trim) {}

    [[nodiscard]] outcome run(way how) {
        if (how == way::by_thickness || how == way::by_marks)
            follow(how);
        else
            plan_again(how == way::weighing_rest);
        return result_;
    }

private:
    [[nodiscard]] double left() const { return scenario_->meat.extent().value() - at_; }
    [[nodiscard]] double weight_between(double from, double to) const {
        return to_mass(scenario_->meat.mass_between(from * metre, to * metre)).value();
    }
    /// Cuts a slab off, sells it and returns its true weight.
    double cut(double thickness, bool steak) {
        const double from = at_, to = at_ + std::clamp(thickness, 0.0, left());
        const double factor = loin_->ratio * loin_->slab[slabs_++];
        const double weight = factor * weight_between(from, to);
        at_ = to;
        sell(steak ? factor * to_mass(kept_.kept_between(from * metre, to * metre)).value() : weight, steak);
        return weight;
    }
    void sell(double kilograms, bool steak) {
        const quantity_range<mass>& limits = scenario_->cuts.front().portion;
        const double most = limits.max.value();
        const double per_kilogram = scenario_->prices.of("steak").by_weight.value();
        if (!steak || kilograms < limits.min.value()) {
            result_.value += kilograms * scenario_->prices.of(destination::grind).value();
            return;
        }
        result_.in_tolerance += kilograms <= most ? 1.0 : 0.0;
        result_.giveaway += std::max(kilograms - most, 0.0);
        result_.value += std::min(kilograms, most) * per_kilogram;
    }
    [[nodiscard]] double off() const { return loin_->bias + loin_->knife[slabs_]; }

    void follow(way how) {
        const tranche::planned planned =
            best_value(scenario_->meat, scenario_->cuts, scenario_->prices, scenario_->rules);
        for (const slab& s : planned.plan.slabs) {
            const bool last = &s == &planned.plan.slabs.back();
            const double aim = how == way::by_marks ? s.end().value() - at_ : s.thickness.value();
            cut(last ? left() : aim + off(), s.kind == slab_kind::portions);
        }
    }
    void plan_again(bool rest_too) {
        cutting_session session(
            scenario_->meat, {scenario_->cuts, scenario_->rules},
            [&](const cutting_problem& problem) { return value_objective<usd>(problem, scenario_->prices); },
            scenario_->spreads);
        while (session.next() && left() > 1e-6 && slabs_ + 1 < simulated_loin::most_slabs) {
            const next_cut advised = *session.next();
            const std::size_t i = slabs_;
            const double weight =
                cut(advised.last ? left() : advised.set.value() + off(), advised.kind == slab_kind::portions);
            if (advised.last) return;
            session.record({.weight = std::max(weight + loin_->scale[i], 1e-3) * kilogram});
            if (!rest_too || !session.next()) continue;
            const double rest = loin_->ratio * weight_between(at_, scenario_->meat.extent().value());
            session.weigh_rest(std::max(rest + loin_->rest_scale[i], 1e-3) * kilogram);
        }
        if (left() > 1e-6) cut(left(), false);
    }

    const loop_scenario* scenario_;
    const simulated_loin* loin_;
    yield_table kept_;
    outcome result_{};
    double at_ = 0.0;
    std::size_t slabs_ = 0;
};

/// A mean and half the width of its 95 % confidence interval, by normal theory.
struct interval {
    double mean = 0.0, half = 0.0;
    [[nodiscard]] double low() const { return mean - half; }
    [[nodiscard]] double high() const { return mean + half; }
};
[[nodiscard]] inline interval interval_of(const std::vector<double>& values) {
    const auto n = static_cast<double>(values.size());
    double sum = 0.0, squares = 0.0;
    for (const double v : values) sum += v;
    for (const double v : values) squares += (v - sum / n) * (v - sum / n);
    return {sum / n, 1.959964 * std::sqrt(squares / (n - 1.0) / n)};
}

/// One way of working over many loins, by itself and, loin by loin, against another.
struct loop_results {
    std::array<std::vector<outcome>, all_ways.size()> by_way;

    [[nodiscard]] interval of(way w, double outcome::*what) const { return difference(w, w, what, 0.0); }
    [[nodiscard]] interval gain(way w, way over, double outcome::*what) const { return difference(w, over, what, 1.0); }

private:
    [[nodiscard]] interval difference(way w, way over, double outcome::*what, double share) const {
        std::vector<double> values;
        const auto &a = by_way[static_cast<std::size_t>(w)], &b = by_way[static_cast<std::size_t>(over)];
        for (std::size_t i = 0; i < a.size(); ++i) values.push_back(a[i].*what - share * (b[i].*what));
        return interval_of(values);
    }
};

[[nodiscard]] inline loop_results simulate_loop(const loop_scenario& scenario, std::uint64_t loins) {
    loop_results results;
    for (std::uint64_t seed = 1; seed <= loins; ++seed) {
        const simulated_loin loin(scenario.spreads, seed);
        for (const way w : all_ways)
            results.by_way[static_cast<std::size_t>(w)].push_back(loop_trial(scenario, loin).run(w));
    }
    return results;
}

} // namespace example
