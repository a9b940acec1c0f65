// How long a scan of a million triangles takes to load, to check and to integrate, against plain slicing of the same mesh:
// each of 840 planes compared with every triangle. Ends in a table of ratios; with --markdown the table is Markdown, and
// --benchmark_filter says which tasks run. Then how a text STL file compares with an OBJ file byte by byte,
// and how the check grows with the mesh.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <iostream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/mesh/cumulative_volume.hpp>
#include <tranche/loin/mesh/mesh_faults.hpp>
#include <tranche/loin/mesh/read_obj.hpp>
#include <tranche/loin/mesh/read_ply.hpp>
#include <tranche/loin/mesh/read_stl.hpp>
#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/profile.hpp>

#include "../tests/loin/mesh_files.hpp"
#include "../tests/loin/mesh_shapes.hpp"
#include "in_turn.hpp"

namespace {

using namespace tranche;
using namespace tranche_benchmark;

constexpr std::size_t planes = 840; // a loin of 420 mm on the default grid of 0.5 mm
constexpr int rounds = 5;

/// Volumes in front of each plane by the midpoint rule on slices: the positions of the vertices along x are at hand, the
/// rest is done anew for each plane.
double slice_plainly(const triangle_mesh& mesh) {
    const mesh_bounds box = detail::bounds_of(mesh);
    const double thickness = (box.high.x - box.low.x) / static_cast<double>(planes);
    double sum = 0.0;
    for (std::size_t k = 0; k < planes; ++k) {
        const double s = box.low.x + (static_cast<double>(k) + 0.5) * thickness;
        double twice = 0.0;
        for (const auto& [a, b, c] : mesh.triangles) {
            const mesh_point &p = mesh.vertices[a], &q = mesh.vertices[b], &r = mesh.vertices[c];
            const bool low_p = p.x < s, low_q = q.x < s, low_r = r.x < s;
            if (low_p == low_q && low_q == low_r) continue;
            mesh_point falls{}, rises{};
            const auto side = [&](const mesh_point& from, const mesh_point& to, bool low_from, bool low_to) {
                if (low_from == low_to) return;
                (low_from ? rises : falls) = from + (s - from.x) / (to.x - from.x) * (to - from);
            };
            side(p, q, low_p, low_q), side(q, r, low_q, low_r), side(r, p, low_r, low_p);
            twice += falls.y * rises.z - falls.z * rises.y;
        }
        sum += 0.5 * twice * thickness;
    }
    return sum;
}

void require_close(double value, double other, double bound, const char* who) {
    if (std::abs(value - other) <= bound * std::abs(value)) return;
    std::cerr << "error: " << who << " gives " << other << ", not " << value << '\n';
    std::exit(EXIT_FAILURE);
}

} // namespace

int main(int argc, char** argv) {
    const run_options options = options_of(argc, argv);

    // Invented; turned, so that no two vertices are level but those of the flat ends.
    const triangle_mesh straight = tranche_test::bumpy_loin(500, 1000);
    tranche_test::dice dice(1);
    const tranche_test::motion turn = tranche_test::random_motion(dice, 0.2);
    const triangle_mesh mesh = turn(straight);
    const triangle_mesh quarter = turn(tranche_test::bumpy_loin(250, 500));
    const std::string obj = tranche_test::obj_file(mesh), text_stl = tranche_test::text_stl_file(mesh);
    const mesh_point direction = turn.turned({0.9, 0.3, 0.1});
    const auto load = [](auto reader, const std::string& file) {
        return [reader, file = std::string(file)]() mutable { // into the stream and out again without a copy
            std::istringstream in(std::move(file), std::ios::binary);
            const auto triangles = static_cast<double>(reader(in, metre).triangles.size());
            file = std::move(in).str();
            return triangles;
        };
    };
    const scan_readings readings{.probes = {{.fat_cover = 6.0 * millimetre}}};
    const scanned_loin loin(straight, readings);
    std::vector<task> tasks{
        {"plain slicing, 840 planes", [&] { return slice_plainly(mesh); }},
        {"cumulative volume",
         [&] {
             return cumulative_volume(mesh, {1.0, 0.0, 0.0}).total().value();
         }},
        {"cumulative volume, oblique", [&] { return cumulative_volume(mesh, direction).total().value(); }},
        {"check", [&] { return faults_of(mesh).closed() ? 1.0 : 0.0; }},
        {"load OBJ", load(read_obj, obj)},
        {"load PLY, text", load(read_ply, tranche_test::ascii_ply_file(mesh))},
        {"load PLY, binary", load(read_ply, tranche_test::binary_ply_file(mesh))},
        {"load STL, text", load(read_stl, text_stl)},
        {"load STL, binary", load(read_stl, tranche_test::binary_stl_file(mesh))},
        {"scanned loin from a mesh", [&] { return scanned_loin(straight, readings).extent().value(); }},
        {"tabulate at 0.5 mm", [&] { return tabulate(loin).unrounded_total().value(); }},
    };

    // No figure is worth anything unless both find the same volume; the midpoint rule errs by less than 1e-4 here.
    const double whole = detail::volume_of(mesh).value();
    require_close(whole, tasks[0].run(), 1e-4, "plain slicing");
    require_close(whole, tasks[1].run(), 1e-10, "the cumulative volume");
    require_close(whole, tasks[2].run(), 1e-10, "the oblique cumulative volume");

    tasks = taken(std::move(tasks), options);
    run_in_turn(tasks, rounds, "Scan of " + std::to_string(mesh.triangles.size()) + " triangles", options.markdown);

    const task *const stl_loads = task_named(tasks, "load STL, text"), *const obj_loads = task_named(tasks, "load OBJ");
    const double bytes = static_cast<double>(text_stl.size()) / static_cast<double>(obj.size());
    if (stl_loads != nullptr && obj_loads != nullptr)
        std::printf("\nText STL over OBJ: %.2f times as long for %.2f times as many bytes\n",
                    stl_loads->median() / obj_loads->median(), bytes);

    // Crumbs, every other one inside out: as many pieces as a scan of a board has when nobody has swept it.
    const triangle_mesh few = tranche_test::crumbs(20'000), many = tranche_test::crumbs(80'000);
    std::vector<task> checks{
        {"check, one piece, n", [&] { return faults_of(quarter).closed() ? 1.0 : 0.0; }},
        {"check, one piece, 4 n", [&] { return faults_of(mesh).closed() ? 1.0 : 0.0; }},
        {"check, crumbs, n", [&] { return static_cast<double>(faults_of(few).stray_hollows.count); }},
        {"check, crumbs, 4 n", [&] { return static_cast<double>(faults_of(many).stray_hollows.count); }},
    };
    checks = taken(std::move(checks), options);
    time_in_turn(checks, rounds, "Checks that grow", options.markdown);
    if (checks.size() == 4)
        std::printf("\n4 n over n: one piece %.2f, crumbs %.2f\n", checks[1].median() / checks[0].median(),
                    checks[3].median() / checks[2].median());
    return EXIT_SUCCESS;
}
