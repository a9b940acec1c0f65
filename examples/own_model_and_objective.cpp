// Embeds the optimiser with a loin model and an objective of one's own. Invented figures.
// SPDX-License-Identifier: BSL-1.0
#include <cstddef>
#include <iostream>

#include <tranche/tranche.hpp>

using namespace tranche;
using namespace tranche::literals;

/// A round loin, such as one of tuna, that thins out towards both ends. Anything with these two functions is a model.
struct spindle_loin {
    tranche::length length{}, thickest{};

    [[nodiscard]] tranche::length extent() const { return length; }
    [[nodiscard]] face face_at(tranche::length at) const {
        const double t = 2.0 * (at / length) - 1.0;
        const tranche::length diameter = thickest * (1.0 - 0.6 * t * t);
        face f;
        f.areas[tissue::eye] = superellipse_fill(2.0) * diameter * diameter;
        f.width = f.depth = diameter;
        return f;
    }
};

/// Wants every portion near a target weight: each slab scores 1 less the square of its relative distance from it. A square
/// is no sum of a start and an end, so this is an objective by the whole slab.
struct near_target {
    using score_type = double;
    static constexpr bool portions_only = true; // loose meat scores nothing
    const cutting_problem& problem;
    mass target;
    double per_microgram = 1e-9 / target.value(); // share of the target

    [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t to) const {
        if (!problem.is_portion(option)) return 0.0;
        const double off = per_microgram * static_cast<double>(problem.weight(option, from, to)) - 1.0;
        return 1.0 - 25.0 * off * off;
    }
};

int main() {
    const spindle_loin tuna{.length = 48_cm, .thickest = 11_cm};
    const profile meat = tabulate(tuna, 1_mm);
    const cut_spec steak{.name = "tuna steak", .thickness = {18_mm, 60_mm}, .portion = {140_g, 260_g}};
    const auto planned = plan(meat, {steak}, best_by<near_target>(200_g));
    for (const slab& s : planned.plan.slabs)
        std::cout << to_text(s.start, whole_millimetres) << ": " << to_text(s.thickness, whole_millimetres) << ' '
                  << name_of(s.kind) << ", " << to_text(to_mass(s.weight()), whole_grams) << '\n';
    return planned.feasible() ? 0 : 1;
}
