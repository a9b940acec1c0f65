// A loin from a 3-D scan of its surface, with probe readings of what the surface does not show.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/cumulative_volume.hpp>
#include <tranche/loin/cut_direction.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/measured_loin.hpp>
#include <tranche/loin/mesh_check.hpp>
#include <tranche/loin/monotone.hpp>
#include <tranche/loin/section_sizes.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/loin/triangle_mesh.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What a probe pushed in from above said at one station: the fat over the eye and the silverskin below it, both straight
/// down. `at` is measured as the cuts are, from the rib end along the normal of the knife.
struct probe_reading {
    length at{}, fat_cover{}, silverskin{};
};

/// What has to be known about a scan beside its surface.
struct scan_readings {
    mesh_axis along = mesh_axis::x;      ///< from the rib face to the sirloin face
    mesh_axis up = mesh_axis::z;         ///< from the board to the fat
    cut_tilt tilt{};                     ///< of the knife; positions are measured along its normal
    std::vector<probe_reading> probes{}; ///< one or more, in order; interpolated as the stations of a `measured_loin`
    gluteus_medius_entry gluteus_medius{};
};

/// Anything shorter or longer is a mistake in the unit of the scan (common practice, no source).
inline constexpr range<length> plausible_scan_extent{20.0 * millimetre, 2.0 * metre};

/// A loin whose sections are those of a closed mesh: areas and volumes are exact for the mesh (`cumulative_volume`), and
/// what lies inside them comes from the probe. At position x let A be the area of the section and w its width as seen
/// along the loin, c the fat cover and s the silverskin there, and k = 1 / (cos a cos b) for a knife tilted by a and b. Then
///     fat = min(A, k c w), connective = min(A - fat, k s w), lean = A - fat - connective,
/// which is a layer of depth c all over the upper side, as deep straight down at the edges as in the middle. The gluteus
/// medius takes its share of the lean; the tail counts as eye. Copies share what was computed; immutable.
class scanned_loin {
public:
    /// Throws `invalid_input`: what `validate` says of the mesh, an extent outside `plausible_scan_extent`, axes that are
    /// not at right angles, a tilt beyond 30 degrees, no probe reading, readings out of order, beyond the loin or deeper
    /// than it, an onset of the second muscle that is not on the loin although a share is given. O(n log n).
    scanned_loin(const triangle_mesh& mesh, scan_readings readings);

    [[nodiscard]] length extent() const { return shape_->volumes.extent(); }
    /// Of the whole mesh in front of the cut at `at`; `tabulate` uses it. O(log n).
    [[nodiscard]] volume volume_before(length at) const { return shape_->volumes.volume_before(at); }
    /// O(log n + probes).
    [[nodiscard]] face face_at(length at) const;
    [[nodiscard]] const scan_readings& readings() const { return readings_; }

private:
    struct shape {
        cumulative_volume volumes;
        section_sizes sizes;
    };
    void validate_readings() const;
    [[nodiscard]] length reading(length probe_reading::*column, length at) const {
        return length::from_value(detail::monotone_interpolation(
            readings_.probes.size(), [&](std::size_t i) { return readings_.probes[i].at.value(); },
            [&](std::size_t i) { return (readings_.probes[i].*column).value(); }, at.value()));
    }

    scan_readings readings_;
    std::shared_ptr<const shape> shape_;
};

inline scanned_loin::scanned_loin(const triangle_mesh& mesh, scan_readings readings) : readings_(std::move(readings)) {
    const cut_frame frame = frame_of(readings_.along, readings_.up, readings_.tilt);
    validate(mesh);
    const cut_frame seen_along_loin = frame_of(readings_.along, readings_.up);
    shape_ = std::make_shared<const shape>(
        shape{{mesh, frame.along}, {mesh, {seen_along_loin.across, seen_along_loin.up, frame.along}}});
    if (!plausible_scan_extent.contains(extent()))
        throw invalid_input("extent of the scan", shown(extent()),
                            shown(plausible_scan_extent.min) + " to " + shown(plausible_scan_extent.max) +
                                "; check the unit of the file");
    validate_readings();
}

inline void scanned_loin::validate_readings() const {
    const std::vector<probe_reading>& probes = readings_.probes;
    if (probes.empty()) throw invalid_input("probes", "none", "at least one reading of the fat cover");
    for (std::size_t i = 0; i < probes.size(); ++i) {
        const probe_reading& p = probes[i];
        const std::string where = "probes[" + std::to_string(i) + "].";
        require_not_negative(p.at, where + "at");
        if (p.at > extent())
            throw invalid_input(where + "at", shown(p.at), "at most the extent of the scan, " + shown(extent()));
        if (i > 0 && !(p.at > probes[i - 1].at))
            throw invalid_input(where + "at", shown(p.at),
                                "more than at the reading before it, " + shown(probes[i - 1].at));
        require_not_negative(p.fat_cover, where + "fat_cover");
        require_not_negative(p.silverskin, where + "silverskin");
        const length deepest = shape_->sizes.greatest_depth();
        if (!(p.fat_cover + p.silverskin < deepest))
            throw invalid_input(where + "fat_cover", shown(p.fat_cover),
                                "less, with the silverskin, than the greatest depth of the scan, " + shown(deepest));
    }
    const gluteus_medius_entry& entry = readings_.gluteus_medius;
    require_share(entry.share_at_end, "gluteus_medius.share_at_end");
    if (entry.share_at_end > 0.0) {
        require_not_negative(entry.onset, "gluteus_medius.onset");
        if (!(entry.onset < extent()))
            throw invalid_input("gluteus_medius.onset", shown(entry.onset),
                                "less than the extent of the scan, " + shown(extent()));
    }
}

inline face scanned_loin::face_at(length at) const {
    at = std::clamp(at, length{}, extent());
    const area whole = std::max(area{}, shape_->volumes.area_at(at)); // a rounding error below zero is no face
    face f;
    const length seen_width = shape_->sizes.width(at);
    const double across = 1.0 / std::cos(readings_.tilt.about_vertical.value());
    const double up = 1.0 / std::cos(readings_.tilt.about_transverse.value());
    f.width = across * seen_width;
    f.depth = up * shape_->sizes.depth(at);
    f.fat_cover.thickness = reading(&probe_reading::fat_cover, at);
    const area per_depth = across * up * seen_width * metre; // of a layer one metre deep
    const area fat = std::min(whole, area(per_depth * (f.fat_cover.thickness / metre)));
    const area band = std::min(area(whole - fat), area(per_depth * (reading(&probe_reading::silverskin, at) / metre)));
    const area lean = whole - fat - band;
    const gluteus_medius_entry& entry = readings_.gluteus_medius;
    const fraction share =
        at > entry.onset ? fraction(entry.share_at_end * ((at - entry.onset) / (extent() - entry.onset))) : 0.0;
    f.areas[tissue::fat_cover] = fat;
    f.areas[tissue::connective] = band;
    f.areas[tissue::gluteus_medius] = share * lean;
    f.areas[tissue::eye] = lean - share * lean;
    return f;
}

} // namespace tranche
