// A face as a painter lays it down: outlines of tissues, the later ones on top of the earlier.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <concepts>
#include <utility>
#include <vector>

#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/tissue.hpp>

namespace tranche {

/// One outline and the tissue that fills it, except where a later outline covers it.
struct painted_outline {
    tissue fill = tissue::eye;
    outline curve{};

    friend bool operator==(const painted_outline&, const painted_outline&) = default;
};
using painted_face = std::vector<painted_outline>;

/// A loin model that knows the outlines of its faces, for pictures and for slanted cuts: `painted_at(x)`. All faces share
/// one origin. `measured_loin` is one; a model that knows only areas is not.
template <class Model>
concept shaped_loin_model = loin_model<Model> && requires(const Model& model, length at) {
    { model.painted_at(at) } -> std::same_as<painted_face>;
};

namespace detail {

using chord_list = std::vector<std::pair<double, double>>;

/// What is left of some stretches of a line when others are taken away.
[[nodiscard]] inline chord_list without(chord_list from, const chord_list& taken) {
    for (const auto& [low, high] : taken) {
        chord_list left;
        for (const auto& [bottom, top] : from) {
            if (bottom < std::min(top, low)) left.emplace_back(bottom, std::min(top, low));
            if (std::max(bottom, high) < top) left.emplace_back(std::max(bottom, high), top);
        }
        from = std::move(left);
    }
    return from;
}

[[nodiscard]] inline double total_length(const chord_list& chords) {
    double sum = 0.0;
    for (const auto& [bottom, top] : chords) sum += top - bottom;
    return sum;
}

} // namespace detail
} // namespace tranche
