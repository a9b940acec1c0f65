// A small study for the examples of threads, processes and ranks: loins taken as prisms, sliced by a knife that errs.
// The scenario is invented: no such loins were weighed.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include <tranche/study.hpp>

namespace example {

/// What comes of one loin of about 5.2 kg, cut into slices of 30 mm as long as they come out whole, at 17.90 a kilogram.
class sliced_prisms {
public:
    [[nodiscard]] tranche::study_outline outline() const {
        return {.outputs = {{"slices", 1.0, 1}, {"weight of a slice", 1e-9, 100'000}, {"cost of a slice", 0.01, 1}},
                .reasons = {"shorter than a slice"}};
    }

    std::optional<tranche::impossible_draw> operator()(const tranche::study_replicate& replicate,
                                                       std::span<std::int64_t> outputs) const {
        tranche::random_stream of_loin = replicate.stream(0), of_knife = replicate.stream(1);
        std::array<double, 2> loin{};
        loins_.draw(of_loin, loin);
        const auto [weight, length] = loin;
        double place = 0.0; // metres from the rib end
        std::int64_t slices = 0;
        while (true) {
            const double thickness = knife_.quantile(of_knife.next_uniform());
            if (place + thickness > length) break;
            place += thickness;
            ++slices;
        }
        if (slices == 0) return tranche::impossible_draw{0};
        const auto n = static_cast<double>(slices);
        outputs[0] = slices;
        outputs[1] = std::llround(weight * (place / length) / n * 1e9);
        outputs[2] = std::llround(weight * 1790.0 / n);
        return std::nullopt;
    }

private:
    static Eigen::MatrixXd longer_is_heavier() {
        Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(2, 2);
        matrix(0, 1) = matrix(1, 0) = 0.6;
        return matrix;
    }

    tranche::study_inputs loins_{{{"weight, kg", tranche::distribution::truncated_normal(5.2, 0.5, 3.5, 7.0)},
                                  {"length, m", tranche::distribution::normal(0.38, 0.02)}},
                                 longer_is_heavier()};
    tranche::distribution knife_ = tranche::distribution::triangular(0.028, 0.030, 0.034);
};

} // namespace example
