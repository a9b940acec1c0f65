// A loin from a 3-D scan, its steaks, and pictures of the faces that the knife will lay open. Invented scenario: the scan is
// made up below, as a mesh in code; one from a scanner comes in by read_ply, read_obj or read_stl.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <iostream>
#include <numbers>
#include <string>

#include <tranche/scans.hpp>
#include <tranche/tranche.hpp>

#include "made_files.hpp"

using namespace tranche;
using namespace tranche::literals;

namespace {

/// 420 mm along x, its flank towards -y, fat up: flat on the board, thin towards the flank, and a little bent.
triangle_mesh invented_scan() {
    constexpr std::uint32_t around = 96, rings = 85;
    triangle_mesh mesh;
    for (std::uint32_t k = 0; k < rings; ++k) {
        const double along = static_cast<double>(k) / (rings - 1);
        const double half_width = 0.100 - 0.008 * along, depth = 0.078 - 0.012 * along;
        const double bend = 0.010 * std::sin(std::numbers::pi * along);
        for (std::uint32_t i = 0; i < around; ++i) {
            const double turn = 2.0 * std::numbers::pi * (i + 0.5) / around;
            const auto rounded = [](double x) { return std::copysign(std::pow(std::abs(x), 0.8), x); };
            const double across = rounded(std::cos(turn)); // -1 at the chine, 1 at the tip of the flank
            const double thinner = std::clamp((across - 0.35) / 0.65, 0.0, 1.0);
            const double top = depth * (1.0 - 0.55 * thinner * thinner * (3.0 - 2.0 * thinner));
            const double up = std::max(0.0, 0.5 * top * (1.0 + rounded(std::sin(turn))) - 0.06 * top);
            const double bumps = 1.0 + 0.01 * std::sin(3.0 * turn + 40.0 * along);
            mesh.vertices.push_back({0.420 * along, bend - half_width * across * bumps, up * bumps});
        }
    }
    const auto corner = [](std::uint32_t k, std::uint32_t i) { return k * around + i % around; };
    const std::uint32_t rib = rings * around, sirloin = rib + 1;
    mesh.vertices.push_back({0.000, 0.0, 0.030});
    mesh.vertices.push_back({0.420, 0.0, 0.025});
    for (std::uint32_t i = 0; i < around; ++i) {
        mesh.triangles.push_back({rib, corner(0, i), corner(0, i + 1)});
        mesh.triangles.push_back({sirloin, corner(rings - 1, i + 1), corner(rings - 1, i)});
        for (std::uint32_t k = 0; k + 1 < rings; ++k) {
            mesh.triangles.push_back({corner(k, i), corner(k + 1, i), corner(k + 1, i + 1)});
            mesh.triangles.push_back({corner(k, i), corner(k + 1, i + 1), corner(k, i + 1)});
        }
    }
    return mesh;
}

} // namespace

/// With the name of a folder, pictures are written there. Exit status 3 if they cannot be.
int main(int count, char** arguments) {
    const scanned_loin loin(invented_scan(),
                            {.flank = loin_side::right,
                             .probes = {{.at = 20_mm, .fat_cover = 11_mm, .silverskin = 1_mm, .tail = 45_mm},
                                        {.at = 210_mm, .fat_cover = 9_mm, .silverskin = 1_mm, .tail = 35_mm},
                                        {.at = 400_mm, .fat_cover = 7_mm, .silverskin = 1_mm, .tail = 25_mm}},
                             .gluteus_medius = {.onset = 330_mm, .share_at_end = 0.35}});
    const auto weighed = calibrate(loin, 5.10_kg);
    const profile meat = tabulate(weighed);
    const cut_spec steak{.name = "steak",
                         .thickness = {25_mm, 35_mm},
                         .trim = {.fat_cover = 5_mm, .tail = 20_mm},
                         .gluteus_medius = on_one_face};
    const auto planned = most_portions(meat, steak, {.facing = 8_mm});
    std::cout << planned.plan.portion_count() << " portions\n" << planned.why_not();
    for (const slab& s : planned.plan.slabs) {
        const bool portions = s.kind == slab_kind::portions;
        std::cout << "  " << to_text(s.start, whole_millimetres) << ": " << to_text(s.thickness, whole_millimetres)
                  << ' ' << (portions ? planned.plan.spec_of(s).name : std::string(name_of(s.kind))) << ", "
                  << to_text(to_mass(s.weight()), whole_grams) << '\n';
    }
    if (!planned.feasible()) return 1;
    if (count < 2) return 0;

    const loin_outline outline = outline_of(weighed);
    return example::made_in(
        arguments[1], {{"scan_faces.svg", faces_svg(cut_faces(weighed, planned.plan), planned.plan, metric_kitchen)},
                       {"scan_from_above.svg", view_from_above_svg(planned.plan, outline, metric_kitchen)},
                       {"scan_from_the_side.svg", view_from_side_svg(planned.plan, outline, metric_kitchen)}});
}
