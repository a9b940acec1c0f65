// Feeds the readers of meshes any bytes at all: they give a mesh or throw invalid_input, and a mesh that passes the check
// has a cumulative volume that ends at its own, and can be cut and painted as a loin.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <limits>
#include <sstream>
#include <string>

#include <tranche/loin/mesh/cumulative_volume.hpp>
#include <tranche/loin/mesh/mesh_faults.hpp>
#include <tranche/loin/mesh/read_obj.hpp>
#include <tranche/loin/mesh/read_ply.hpp>
#include <tranche/loin/mesh/read_stl.hpp>
#include <tranche/loin/models/scanned_loin.hpp>

namespace {

using namespace tranche;

triangle_mesh read_as(unsigned format, std::istream& in) {
    switch (format % 3) {
    case 0: return read_obj(in, millimetre);
    case 1: return read_ply(in, millimetre);
    default: return read_stl(in, millimetre);
    }
}

/// The rounding error of a volume: of order ε times the triangles times the box around all vertices, whose sides only
/// strays that belong to no triangle can make large.
double volume_error(const triangle_mesh& mesh) {
    const mesh_bounds box = detail::bounds_of(mesh);
    const mesh_point size = box.high - box.low;
    const double diagonal = std::sqrt(detail::dot(size, size));
    return 100.0 * std::numeric_limits<double>::epsilon() * static_cast<double>(mesh.triangles.size()) * diagonal *
           diagonal * diagonal;
}

void expect(bool holds, const char* what) {
    if (holds) return;
    std::cerr << "does not hold: " << what << '\n';
    std::abort();
}

void cut(const triangle_mesh& mesh) {
    for (const mesh_point direction : {mesh_point{1, 0, 0}, mesh_point{-1, 2, 3}}) {
        try {
            const cumulative_volume volumes(mesh, direction);
            const double whole = volumes.total().value();
            expect(std::abs(whole - detail::volume_of(mesh).value()) <= volume_error(mesh),
                   "the cumulative volume ends at the whole");
            for (const double part : {0.0, 0.3, 0.7, 1.0}) {
                const length at = part * volumes.extent();
                expect(std::isfinite(volumes.volume_before(at).value()), "volumes are finite");
                expect(std::isfinite(volumes.area_at(at).value()), "areas are finite");
            }
        } catch (const invalid_input&) { // thinner than a double can tell
        }
    }
}

void divide(const triangle_mesh& mesh) {
    for (const double lean : {0.0, 20.0}) {
        const length skin = 0.1 * millimetre;
        try {
            const scanned_loin loin(mesh,
                                    {.tilt = {.about_vertical = 0.5 * lean * degree, .about_transverse = lean * degree},
                                     .probes = {{.fat_cover = 10.0 * skin, .silverskin = skin, .tail = 30.0 * skin}},
                                     .gluteus_medius = {.onset = {}, .share_at_end = 0.4}});
            for (const double part : {0.0, 0.5, 0.7, 1.0}) {
                const face f = loin.face_at(part * loin.extent());
                for (const tissue t : all_tissues)
                    expect(std::isfinite(f.areas[t].value()) && f.areas[t].value() >= 0.0, "areas are areas");
                for (const painted_outline& p : loin.painted_at(part * loin.extent())) {
                    expect(p.curve.points.size() > 2, "outlines have corners");
                    expect(std::isfinite(area_of(p.curve).value()), "outlines are finite");
                }
            }
        } catch (const invalid_input&) { // no loin is of that size
        }
    }
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    std::istringstream in(std::string(reinterpret_cast<const char*>(data) + 1, size - 1), std::ios::binary);
    try {
        const triangle_mesh mesh = read_as(data[0], in);
        expect(mesh.vertices.size() <= size && mesh.triangles.size() <= size, "no more comes out than was put in");
        validate(mesh);
        cut(mesh);
        divide(mesh);
    } catch (const invalid_input& e) {
        expect(!e.field().empty() && !e.value().empty() && !e.expected().empty(), "an error says what and where");
    }
    return 0;
}
