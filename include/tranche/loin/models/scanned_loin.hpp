// A loin from a 3-D scan of its surface, with readings of what the surface does not show.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/face.hpp>
#include <tranche/loin/loin_side.hpp>
#include <tranche/loin/mesh/cumulative_volume.hpp>
#include <tranche/loin/mesh/cut_direction.hpp>
#include <tranche/loin/mesh/detail/mesh_levels.hpp>
#include <tranche/loin/mesh/mesh_faults.hpp>
#include <tranche/loin/mesh/mesh_sections.hpp>
#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/outline/detail/section_columns.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/tape/detail/monotone.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What was read beside the scan at one station: by a probe pushed in from above, the fat over the eye and the silverskin
/// below it, both straight down; by a ruler, the length of the tail from its tip. `at` is measured as the cuts are, from the
/// rib end along the normal of the knife.
struct probe_reading {
    length at{}, fat_cover{}, silverskin{}, tail{};

    friend bool operator==(const probe_reading&, const probe_reading&) = default;
};

/// What has to be known about a scan beside its surface.
struct scan_readings {
    mesh_axis along = mesh_axis::x; ///< from the rib face to the sirloin face
    mesh_axis up = mesh_axis::z;    ///< from the board to the fat
    loin_side flank =
        loin_side::left; ///< where tail and gluteus medius lie; outlines run from the other one, the chine
    cut_tilt tilt{};     ///< of the knife; positions are measured along its normal
    std::vector<probe_reading> probes{}; ///< one or more, in order; interpolated as the stations of a `measured_loin`
    gluteus_medius_entry gluteus_medius{};

    friend bool operator==(const scan_readings&, const scan_readings&) = default;
};

namespace detail {

/// Anything shorter or longer is a mistake in the unit of the scan (common practice, no source).
inline constexpr quantity_range<length> plausible_scan_extent{20.0 * millimetre, 2.0 * metre};

} // namespace detail

/// A loin whose sections are those of a closed mesh: areas, volumes and outlines are exact for the mesh (`cumulative_volume`,
/// `mesh_sections`), and what lies inside them comes from the readings. On a face,
///     tail = what lies within its length of the tip, cut off straight up and down;
///     fat = what of the rest has the surface no more than the fat cover straight above it;
///     connective = what of the rest has it no more than fat cover and silverskin above it;
///     gluteus medius = its share of the lean that is left, on the flank side of an upright; eye = the other lean.
/// Where the surface bends over or has hollows, the highest that the section reaches at a place counts. Under a knife that is
/// leaned, straight above a place is on another section, and that one is asked. Copies share what was computed; immutable.
class scanned_loin {
public:
    /// Throws `invalid_input`: what `validate` says of the mesh, an extent outside `plausible_scan_extent`, axes that
    /// are not at right angles, a tilt beyond 30 degrees, no probe reading, readings out of order, beyond the loin,
    /// deeper or longer than it, an onset of the second muscle that is not on the loin although a share is given. O(n
    /// log n). Coordinates are metres, readings lengths of zero or more, `share_at_end` is 0 to 1.
    scanned_loin(const triangle_mesh& mesh, scan_readings readings);

    /// From the rib face to the sirloin face, in metres, above zero where the model is valid. Throws nothing.
    [[nodiscard]] length extent() const { return shape_->volumes.extent(); }
    /// Of the whole mesh in front of the cut at `at`; `tabulate` uses it. O(log n). In cubic metres, zero or more;
    /// places beyond the loin count as its ends. Throws nothing.
    [[nodiscard]] volume volume_before(length at) const { return shape_->volumes.volume_before(at); }
    /// Of that volume about the plane at `at`; `slice_calibrated_loin` uses it. O(log n). In m⁴, zero or more. Throws
    /// nothing.
    [[nodiscard]] volume_moment moment_before(length at) const { return shape_->volumes.moment_before(at); }
    /// Areas add up to that of the section; where the mesh does not cut through itself, each is that of the outlines of
    /// `painted_at`, but for rounding. The fat is as much thinner than the cover, measured at right angles to what lies
    /// under it, as the cosine of its slope says (as with `cap_spread`), and where nothing does, even; the tail is
    /// spread by its length. O(k log n + probes) for k triangles that the cut meets. `at` is 0 to the extent, areas are
    /// in square metres. Throws nothing but for lack of memory.
    [[nodiscard]] face face_at(length at) const;
    /// Outlines of the tissues in metres, `at` from 0 to the extent. O(k log n), with hollows O(k²). Throws nothing but
    /// for lack of memory.
    [[nodiscard]] painted_face painted_at(length at) const;
    /// As they were given, in metres. Throws nothing.
    [[nodiscard]] const scan_readings& readings() const { return readings_; }
    /// The side that the readings say. Throws nothing.
    [[nodiscard]] loin_side flank() const { return readings_.flank; }

private:
    struct shape {
        cumulative_volume volumes;
        mesh_sections sections;
    };
    /// A section divided among its tissues.
    struct divided {
        std::vector<detail::flat_ring> rings;
        double chine = 0.0, flank = 0.0, tail_from = 0.0; ///< across
        double depth = 0.0;
        detail::section_part tail_part, body, below_fat, lean;
    };
    void snap_readings();
    void validate_readings() const;
    [[nodiscard]] static layer_spread fat_spread(const divided& d, double depth);
    [[nodiscard]] divided divided_at(length at) const;
    [[nodiscard]] fraction gluteus_medius_at(length at) const {
        const gluteus_medius_entry& entry = readings_.gluteus_medius;
        return at > entry.onset
                   ? detail::unfused(entry.share_at_end * double((at - entry.onset) / (extent() - entry.onset)))
                   : 0.0;
    }
    [[nodiscard]] length reading(length probe_reading::*column, length at) const {
        return length::from_value(detail::monotone_interpolation(
            readings_.probes.size(), [&](std::size_t i) { return readings_.probes[i].at.value(); },
            [&](std::size_t i) { return (readings_.probes[i].*column).value(); }, at.value()));
    }

    scan_readings readings_;
    std::shared_ptr<const shape> shape_;
};

inline scanned_loin::scanned_loin(const triangle_mesh& mesh, scan_readings readings) : readings_(std::move(readings)) {
    readings_.tilt = detail::snapped(readings_.tilt);
    detail::cut_frame frame = detail::frame_of(readings_.along, readings_.up, readings_.tilt);
    if (readings_.flank == loin_side::right) frame.across = -1.0 * frame.across;
    validate(mesh);
    const triangle_mesh read = detail::snapped(mesh);
    const detail::mesh_levels levels(read, frame.along);
    shape_ = std::make_shared<const shape>(shape{{read, levels}, {read, frame, levels}});
    if (!detail::plausible_scan_extent.contains(extent()))
        throw invalid_input("extent of the scan", detail::shown(extent()),
                            detail::shown(detail::plausible_scan_extent.min) + " to " +
                                detail::shown(detail::plausible_scan_extent.max) + "; check the unit of the file");
    snap_readings();
    validate_readings();
}

/// Readings are read to 1/16 um. The mesh is as it was scanned but for noise, so a reading at its very end is as far along as it reaches.
inline void scanned_loin::snap_readings() {
    for (probe_reading& p : readings_.probes)
        p = {detail::snapped(p.at), detail::snapped(p.fat_cover), detail::snapped(p.silverskin),
             detail::snapped(p.tail)};
    gluteus_medius_entry& entry = readings_.gluteus_medius;
    entry = {detail::snapped(entry.onset), detail::snapped_share(entry.share_at_end)};
}

inline void scanned_loin::validate_readings() const {
    const std::vector<probe_reading>& probes = readings_.probes;
    if (probes.empty()) throw invalid_input("probes", "none", "at least one reading of the fat cover");
    for (std::size_t i = 0; i < probes.size(); ++i) {
        const probe_reading& p = probes[i];
        const std::string where = "probes[" + std::to_string(i) + "].";
        detail::require_not_negative(p.at, where + "at");
        if (p.at > detail::snapped(extent()))
            throw invalid_input(where + "at", detail::shown(p.at),
                                "at most the extent of the scan, " + detail::shown(extent()));
        if (i > 0 && !(p.at > probes[i - 1].at))
            throw invalid_input(where + "at", detail::shown(p.at),
                                "more than at the reading before it, " + detail::shown(probes[i - 1].at));
        detail::require_not_negative(p.fat_cover, where + "fat_cover");
        detail::require_not_negative(p.silverskin, where + "silverskin");
        detail::require_not_negative(p.tail, where + "tail");
        const length deepest = shape_->sections.greatest_depth(), widest = shape_->sections.greatest_width();
        if (!(p.fat_cover + p.silverskin < deepest))
            throw invalid_input(where + "fat_cover", detail::shown(p.fat_cover),
                                "less, with the silverskin, than the greatest depth of the scan, " +
                                    detail::shown(deepest));
        if (!(p.tail < widest))
            throw invalid_input(where + "tail", detail::shown(p.tail),
                                "less than the greatest width of the scan, " + detail::shown(widest));
    }
    const gluteus_medius_entry& entry = readings_.gluteus_medius;
    detail::require_share(entry.share_at_end, "gluteus_medius.share_at_end");
    if (entry.share_at_end > 0.0) {
        detail::require_not_negative(entry.onset, "gluteus_medius.onset");
        if (!(entry.onset < detail::snapped(extent())))
            throw invalid_input("gluteus_medius.onset", detail::shown(entry.onset),
                                "less than the extent of the scan, " + detail::shown(extent()));
    }
}

inline scanned_loin::divided scanned_loin::divided_at(length at) const {
    divided d;
    d.rings = shape_->sections.rings_at(at);
    if (d.rings.empty()) return d;
    detail::flat_box box;
    for (const detail::flat_ring& ring : d.rings) box.add(ring);
    d.chine = box.low.x, d.flank = box.high.x, d.depth = box.high.y - box.low.y;
    const double tail = reading(&probe_reading::tail, at).value();
    d.tail_from = std::max(d.chine, d.flank - tail);

    const double lean = readings_.tilt.about_transverse.value(), down = std::cos(lean), behind = std::sin(lean);
    const detail::section_columns columns(d.rings, d.rings);
    const auto deeper_than = [&](double depth) {
        if (behind == 0.0) return columns.below_roof(depth, d.chine, d.tail_from);
        const auto above = shape_->sections.rings_at(at + length::from_value(detail::unfused(depth * behind)));
        return detail::section_columns(d.rings, above).below_roof(depth * down, d.chine, d.tail_from);
    };
    const double fat = reading(&probe_reading::fat_cover, at).value();
    const double skin = reading(&probe_reading::silverskin, at).value();
    const detail::section_part all = columns.all(d.chine, d.flank);
    if (tail > 0.0) d.tail_part = detail::between(all, d.tail_from, d.flank);
    d.body = detail::between(all, d.chine, d.tail_from);
    d.below_fat = fat > 0.0 ? deeper_than(fat) : d.body;
    d.lean = skin > 0.0 ? deeper_than(fat + skin) : d.below_fat;
    return d;
}

/// Of fat that is `depth` thick straight up, wherever anything lies under it.
inline layer_spread scanned_loin::fat_spread(const divided& d, double depth) {
    double width = 0.0; // of the columns with something under the fat
    layer_spread spread{};
    for (const detail::section_column& column : d.below_fat) {
        const double run = column.right - column.left, slope = (column.high_right - column.high_left) / run;
        const double thinner = std::sqrt(1.0 + detail::unfused(slope * slope));
        width += run;
        for (std::size_t k = 0; k < spread.size(); ++k)
            spread[k] += detail::unfused(run * std::min(1.0, even_spread[k] * thinner));
    }
    const double fat = area_of(d.body) - area_of(d.below_fat);
    if (!(fat > 0.0 && width > 0.0)) return even_spread;
    const double above = std::min(1.0, depth * width / fat); // of the fat, what lies above something
    for (std::size_t k = 0; k < spread.size(); ++k)
        spread[k] = detail::unfused(above * (spread[k] / width)) + detail::unfused((1.0 - above) * even_spread[k]);
    spread.back() = 1.0;
    return spread;
}

inline face scanned_loin::face_at(length at) const {
    at = std::clamp(at, length{}, extent());
    const area whole = std::max(area{}, shape_->volumes.area_at(at)); // a rounding error below zero is no face
    const divided d = divided_at(at);
    face f;
    f.width = length::from_value(d.flank - d.chine);
    f.fat_cover.thickness = reading(&probe_reading::fat_cover, at);
    if (f.fat_cover.thickness > length{})
        f.fat_cover.spread =
            fat_spread(d, f.fat_cover.thickness.value() / std::cos(readings_.tilt.about_transverse.value()));
    if (!d.tail_part.empty())
        f.tail = {length::from_value(d.flank - d.tail_from), detail::spread_across(d.tail_part, d.tail_from, d.flank)};
    f.depth = length::from_value(d.depth);

    const double tail = area_of(d.tail_part), body = area_of(d.body), below = area_of(d.below_fat);
    const double lean = area_of(d.lean);
    const area unit = tail + body > 0.0 ? area(whole / (tail + body)) : area{}; // one but for rounding
    const fraction share = gluteus_medius_at(at);
    f.areas[tissue::tail] = tail * unit;
    f.areas[tissue::fat_cover] = std::max(0.0, body - below) * unit;
    f.areas[tissue::connective] = std::max(0.0, below - lean) * unit;
    f.areas[tissue::gluteus_medius] = detail::unfused(share * lean * unit);
    f.areas[tissue::eye] = detail::unfused((lean - detail::unfused(share * lean)) * unit);
    if (!(tail + body > 0.0)) f.areas[tissue::eye] = whole;
    return f;
}

inline painted_face scanned_loin::painted_at(length at) const {
    at = std::clamp(at, length{}, extent());
    const divided d = divided_at(at);
    painted_face painted;
    const auto paint = [&](tissue fill, const std::vector<outline>& curves) {
        for (const outline& curve : curves) painted.push_back({fill, curve});
    };
    const bool fat = reading(&probe_reading::fat_cover, at) > length{};
    const bool skin = reading(&probe_reading::silverskin, at) > length{};
    paint(fat ? tissue::fat_cover : skin ? tissue::connective : tissue::eye, detail::outlines_of(d.rings));
    if (fat && skin) paint(tissue::connective, detail::outlines_of(d.below_fat));
    if (fat || skin) paint(tissue::eye, detail::outlines_of(d.lean));
    if (const fraction share = gluteus_medius_at(at); share > 0.0 && !d.lean.empty()) {
        // The upright that leaves the share on the flank side.
        const double wanted = share * area_of(d.lean);
        double low = d.chine, high = d.tail_from;
        const auto beyond = [&](double upright) { return detail::between(d.lean, upright, d.tail_from); };
        for (int i = 0; i < 50; ++i) {
            const double upright = 0.5 * (low + high);
            (area_of(beyond(upright)) > wanted ? low : high) = upright;
        }
        paint(tissue::gluteus_medius, detail::outlines_of(beyond(low)));
    }
    paint(tissue::tail, detail::outlines_of(d.tail_part));
    return painted;
}

} // namespace tranche
