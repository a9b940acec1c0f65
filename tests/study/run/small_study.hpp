// A study that is quick to run and has everything that studies have: an invented scenario.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>

#include <tranche/study/random/distribution.hpp>
#include <tranche/study/random/study_inputs.hpp>
#include <tranche/study/run/study_model.hpp>

namespace small_study {

/// A prism of 1060 kg/m3 cut into slices of one thickness: slices, and what each weighs. Every tenth loin or so is too short for
/// ten slices: impossible; some few have no slice weight; replicates 77 and 4100 throw.
struct prism_slices {
    double thickness = 0.03; // metres
    bool throws = true;
    tranche::study_inputs inputs{
        std::vector<tranche::study_input>{{"length", tranche::distribution::truncated_normal(0.36, 0.05, 0.2, 0.6)},
                                          {"face", tranche::distribution::lognormal(0.0125, 0.0015)},
                                          {"slip", tranche::distribution::triangular(-0.001, 0.0, 0.002)}}};

    [[nodiscard]] tranche::study_outline outline() const {
        return {{{"slices", 1.0, 1}, {"weight", 1e-9, 100'000}}, {"shorter than ten slices"}};
    }

    std::optional<tranche::impossible_draw> operator()(const tranche::study_replicate& replicate,
                                                       std::span<std::int64_t> outputs) const {
        if (throws && (replicate.number() == 77 || replicate.number() == 4100))
            throw std::runtime_error("the knife slipped off the board in " + std::to_string(replicate.number()));
        auto stream = replicate.stream();
        std::array<double, 3> x{};
        inputs.draw(stream, x);
        const double each = thickness + x[2];
        const double slices = std::floor(x[0] / each);
        if (slices < 10.0) return tranche::impossible_draw{0};
        outputs[0] = static_cast<std::int64_t>(slices);
        if (slices < 15.0) outputs[1] = std::llround(each * x[1] * 1060.0 * 1e9);
        return std::nullopt;
    }
};

} // namespace small_study
