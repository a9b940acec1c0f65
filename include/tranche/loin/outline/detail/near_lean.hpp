// What of a traced face lies within a distance of the lean: silverskin, and the fat that a trim keeps.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include <tranche/loin/outline/detail/sweep.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The outlines of a traced face; those that are not there have no rings.
struct traced_regions {
    flat_region whole, eye, gluteus_medius, tail;
};

/// The curve at a distance outside of a ring, or inside of it where the distance is below zero: each side moved, with an arc
/// around every corner, forwards around one that juts out and backwards around one that juts in. It crosses itself where it
/// gets too close; what lies within the distance of the ring's inside is what it runs around against the clock more often
/// than with it (the winding number of a convolution: Guibas, Ramshaw and Stolfi 1983, FOCS 24:100, from memory).
template <class = when_called>
class moved_ring {
public:
    explicit moved_ring(flat_ring ring) : ring_(std::move(ring)) {
        if (signed_area(ring_) < 0.0) std::reverse(ring_.begin(), ring_.end());
        for (std::size_t i = 0; i < ring_.size(); ++i) {
            const flat_point a = ring_[i], b = ring_[(i + 1) % ring_.size()];
            const double dx = b.x - a.x, dy = b.y - a.y, size = std::sqrt(unfused(dx * dx) + unfused(dy * dy));
            normals_.push_back({dy / size, -dx / size});
        }
    }

    /// `chords`: with arcs cut into chords of 15 degrees at most, whose ends lie on them.
    void add_to(outline_sweep<>& sweep, double distance, int group, bool chords) const {
        const auto moved = [&](flat_point corner, flat_point normal) -> flat_point {
            return {corner.x + unfused(distance * normal.x), corner.y + unfused(distance * normal.y)};
        };
        const std::size_t n = ring_.size();
        for (std::size_t i = 0; i < n; ++i) {
            const flat_point before = normals_[(i + n - 1) % n], after = normals_[i], next = ring_[(i + 1) % n];
            const auto add_piece = [&](flat_point from, flat_point to) { // unit vectors; both up or both down
                sweep.add({.from = moved(ring_[i], from),
                           .to = moved(ring_[i], to),
                           .group = group,
                           .radius = chords                ? 0.0
                                     : from.y + to.y > 0.0 ? distance
                                                           : -distance,
                           .centre = ring_[i]});
            };
            const auto add_arc = [&](const auto& self, flat_point from, flat_point to) -> void {
                const double x = from.x + to.x, y = from.y + to.y, size = std::sqrt(unfused(x * x) + unfused(y * y));
                if (!chords || !(size < 2.0 * cosine_of_7_5_degrees && size > 1e-9)) return add_piece(from, to);
                const flat_point middle{x / size, y / size};
                self(self, from, middle);
                self(self, middle, to);
            };
            // Where it turns past the leftmost or the rightmost point of its circle.
            if (before.y * after.y < 0.0) {
                const bool against = unfused(before.x * after.y) > unfused(before.y * after.x);
                const flat_point extreme{against == (before.y < 0.0) ? 1.0 : -1.0, 0.0};
                add_arc(add_arc, before, extreme);
                add_arc(add_arc, extreme, after);
            } else {
                add_arc(add_arc, before, after);
            }
            sweep.add({.from = moved(ring_[i], after), .to = moved(next, after), .group = group});
        }
    }

    /// Across or up, whichever is less.
    [[nodiscard]] double narrowest() const {
        flat_box box;
        box.add(ring_);
        return std::min(box.high.x - box.low.x, box.high.y - box.low.y);
    }

private:
    static constexpr double cosine_of_7_5_degrees = 0.99144486137381041;

    flat_ring ring_;
    std::vector<flat_point> normals_; ///< outwards, of the side that begins at each corner
};

/// What lies on a traced face, but not on its tail, and no further than a distance from the lean, with the lean. Holes of the
/// lean count as well, as far as they are near any of it.
template <class = when_called>
class near_lean {
public:
    explicit near_lean(traced_regions face) : face_(std::move(face)) {
        for (const flat_region* region : {&face_.eye, &face_.gluteus_medius})
            for (const flat_ring& ring : region->rings())
                if (ring.size() > 2) // one that has all but shrunk away may have less
                    (&ring == &region->rings().front() ? outer_ : holes_).emplace_back(ring);
    }

    /// In square metres; exact but for rounding.
    [[nodiscard]] double area_within(double distance) const {
        double sum = 0.0;
        sweep(distance, false, [&](int, double left, double right, const met_side& low, const met_side& high) {
            sum += area_between(left, right, low, high);
        });
        return sum;
    }
    /// Columns with arcs cut into chords, for painting.
    [[nodiscard]] section_part band(double distance) const {
        section_part part;
        sweep(distance, true, [&](int, double left, double right, const met_side& low, const met_side& high) {
            const section_column column = column_between(left, right, low, high);
            if (column.area() > 0.0) part.push_back(column);
        });
        return part;
    }

private:
    enum group { whole, tail, eye, eye_holes, second_muscle, second_holes, near_first, near_second, far, groups };

    template <class Found>
    void sweep(double distance, bool chords, Found found) const {
        outline_sweep<> curves;
        const auto add = [&](const flat_region& region, int outer, int holes) {
            for (const flat_ring& ring : region.rings())
                curves.add(ring, &ring == &region.rings().front() ? outer : holes);
        };
        add(face_.whole, whole, whole);
        add(face_.tail, tail, tail);
        if (!holes_.empty()) { // otherwise what is near takes in the lean
            add(face_.eye, eye, eye_holes);
            add(face_.gluteus_medius, second_muscle, second_holes);
        }
        for (std::size_t k = 0; k < outer_.size(); ++k)
            outer_[k].add_to(curves, distance, near_first + static_cast<int>(k), chords);
        // Where a circle of this distance fits into a hole, its middle is far from the lean.
        for (const moved_ring<>& hole : holes_)
            if (hole.narrowest() > 2.0 * distance) hole.add_to(curves, -distance, far, chords);
        const auto near = [](const std::vector<passed_curves>& passed) -> int {
            if (!passed[whole].around() || passed[tail].around()) return 0;
            const bool in_eye = passed[eye].around(), in_second = passed[second_muscle].around();
            const bool hole_of_eye = in_eye && passed[eye_holes].around();
            const bool hole_of_second = in_second && passed[second_holes].around();
            return (in_eye && !hole_of_eye) || (in_second && !hole_of_second) ||
                   ((hole_of_eye || hole_of_second) && passed[far].winding <= 0) ||
                   (!hole_of_eye && passed[near_first].winding > 0) ||
                   (!hole_of_second && passed[near_second].winding > 0);
        };
        curves.cells(groups, near, found);
    }

    traced_regions face_;
    std::vector<moved_ring<>> outer_, holes_;
};

} // namespace tranche::detail
