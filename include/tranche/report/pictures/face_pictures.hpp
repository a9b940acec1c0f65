// Pictures of the faces that the cuts of a plan lay open: outlines of the tissues, trim lines and divisions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/pictures/cut_faces.hpp>
#include <tranche/report/pictures/detail/face_lines.hpp>
#include <tranche/report/pictures/detail/loin_canvas.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

namespace detail {

/// The box around the outlines of one face, in millimetres; upside down where there are none.
struct face_box {
    double left = std::numeric_limits<double>::infinity(), right = -left, low = left, high = right;

    template <class = when_called>
    explicit face_box(const cut_face& f) {
        for (const painted_outline& p : f.painted)
            for (const outline_point& corner : p.curve.points) {
                left = std::min<double>(left, corner.across / millimetre);
                right = std::max<double>(right, corner.across / millimetre);
                low = std::min<double>(low, corner.up / millimetre);
                high = std::max<double>(high, corner.up / millimetre);
            }
    }
};

/// Boxes around all faces, and the room that the widest and the deepest of them take. Each face stands on the foot of its room,
/// at the left of it: slanted faces move across from one to the next.
struct faces_room {
    std::vector<face_box> boxes;
    double width = 0.0, height = 0.0;

    explicit faces_room(const std::vector<cut_face>& faces) {
        for (const cut_face& f : faces) {
            boxes.emplace_back(f);
            width = std::max(width, boxes.back().right - boxes.back().left);
            height = std::max(height, boxes.back().high - boxes.back().low);
        }
        if (!(width > 0.0 && height > 0.0)) throw invalid_input("faces", "no outlines", "faces of a loin");
    }
};

/// Small multiples in rows, all to one scale.
template <class = when_called>
class faces_picture : loin_canvas<> {
public:
    faces_picture(const std::vector<cut_face>& faces, const cutting_plan& cuts, const kitchen_units& units,
                  const faces_room& room)
        : loin_canvas<>("faces", em_for(faces.size(), room.width), units), faces_(faces), cuts_(cuts), room_(room),
          across_(columns_for(faces.size())) {
        for (std::size_t i = 0; i < faces.size(); ++i) {
            for (const painted_outline& p : faces[i].painted) drawn_[p.fill] = true;
            seen_.emplace_back(faces[i]);
            trims_.emplace_back();
            divisions_.emplace_back();
            if (!is_slab(i)) continue;
            const slab& s = cuts.slabs[i];
            trim_spec trim = cuts.trim_of(s);
            const length tail = trim.tail.at(faces[i].at / cuts.extent);
            trim.tail = tail; // as it is on this face
            for (const auto& lines : {fat_trim(seen_[i], trim.fat_cover), tail_trim(seen_[i], tail)})
                trims_[i].insert(trims_[i].end(), lines.begin(), lines.end());
            if (s.kind == slab_kind::portions) divisions_[i] = divisions(seen_[i], trim, cuts.spec_of(s).pieces);
        }
    }

    [[nodiscard]] std::string draw() {
        const double across = static_cast<double>(across_), gap = gap_ems * em_;
        const double content = across * room_.width + (across - 1.0) * gap;
        const double row = room_.height + 4.9 * em_, top = 3.6 * em_;
        const double scale = top + row * static_cast<double>((faces_.size() + across_ - 1) / across_) + 0.4 * em_;
        const double keys = scale + 2.6 * em_;
        const std::vector<std::string> lines = picture_notes();
        begin(content + 2.0 * margin(), keys + em_ * (1.2 + 1.5 * static_cast<double>(lines.size())),
              "The faces of the cuts, in cutting order", description());
        for (std::size_t i = 0; i < faces_.size(); ++i) {
            begin_group(margin() + static_cast<double>(i % across_) * (room_.width + gap),
                        top + static_cast<double>(i / across_) * row, "face");
            draw_face(i);
            end_group();
        }
        scale_bar(margin(), scale, std::min(content, 2.0 * room_.width));
        std::vector<tissue> seen;
        for (const tissue t : all_tissues)
            if (drawn_[t]) seen.push_back(t);
        key(margin(), keys, seen, cuts_);
        notes(keys + 1.9 * em_, lines);
        return end();
    }

private:
    static constexpr double gap_ems = 2.0;

    [[nodiscard]] static std::size_t columns_for(std::size_t faces) { return faces < 4 ? faces : faces < 7 ? 3 : 4; }
    /// 62 letters fit across the picture.
    [[nodiscard]] static double em_for(std::size_t faces, double width) {
        const auto across = static_cast<double>(columns_for(faces));
        return across * width / (62.0 - (across - 1.0) * gap_ems);
    }

    [[nodiscard]] bool is_slab(std::size_t i) const { return i < cuts_.slabs.size(); }
    [[nodiscard]] std::string name_of_face(std::size_t i) const {
        return is_slab(i) ? printable(what_is(cuts_.slabs[i], cuts_)) : "sirloin face";
    }
    [[nodiscard]] std::string place_of_face(std::size_t i) const { return "at " + to_text(faces_[i].at, units_.along); }

    // From the left and downwards from the top of a face's room. Seen from the rib end, a flank on the left is on the left.
    [[nodiscard]] double right_of(std::size_t i, double metres) const {
        const face_box& box = room_.boxes[i];
        return faces_[i].flank == loin_side::right ? metres * 1000.0 - box.left : box.right - metres * 1000.0;
    }
    [[nodiscard]] double below(std::size_t i, double metres) const {
        return room_.height - (metres * 1000.0 - room_.boxes[i].low);
    }
    [[nodiscard]] std::string path_of(std::size_t i, const std::vector<flat_point>& points, bool closed = false) const {
        std::vector<picture_point> corners;
        for (const flat_point& p : points) corners.push_back({right_of(i, p.x), below(i, p.y)});
        return path_through(corners, closed);
    }
    /// The rings of an outline, the outer one against the clock and holes with it, so that outlines together fill what any
    /// of them fills.
    [[nodiscard]] std::string shape_of(std::size_t face, const flat_region& region) const {
        std::string path;
        for (std::size_t i = 0; i < region.rings().size(); ++i) {
            flat_ring ring = region.rings()[i];
            if ((signed_area(ring) > 0.0) != (i == 0)) std::reverse(ring.begin(), ring.end());
            // Half of what is written of a corner: sections of a scan have one at every edge of its mesh.
            path += path_of(face, without_straight_corners(ring, 0.5e-5), true);
        }
        return path;
    }

    void draw_face(std::size_t i);
    void captions(std::size_t i);
    [[nodiscard]] std::vector<std::string> picture_notes() const;
    [[nodiscard]] std::string description() const;

    const std::vector<cut_face>& faces_;
    const cutting_plan& cuts_;
    const faces_room& room_;
    std::size_t across_;
    by_tissue<bool> drawn_{};
    std::vector<visible_face> seen_; // beside faces_, as are the lines
    std::vector<std::vector<flat_line>> trims_, divisions_;
};

template <class T>
void faces_picture<T>::draw_face(std::size_t i) {
    const visible_face& seen = seen_[i];
    std::vector<std::string> shapes;
    std::string all;
    for (const flat_region& region : seen.regions()) all += shapes.emplace_back(shape_of(i, region));
    // Under the paint, of which the inner half is hidden.
    path("outline", all, {.edge = {.width = 0.24}});
    for (std::size_t k = 0; k < seen.regions().size(); ++k) {
        const tissue t = faces_[i].painted[k].fill;
        // A line on the edge of the eye would hide the silverskin.
        const bool skin = t == tissue::connective || (t == tissue::eye && seen.curve_of(tissue::connective) != nullptr);
        meat(t, shapes[k], skin ? 0.0 : 0.04);
    }
    if (is_slab(i) && cuts_.slabs[i].kind != slab_kind::portions) mark_as_loose(all);
    for (const flat_line& cut : trims_[i]) trim_line(path_of(i, cut));
    for (const flat_line& cut : divisions_[i])
        division(right_of(i, cut.front().x), below(i, cut.front().y), right_of(i, cut.back().x),
                 below(i, cut.back().y));
    captions(i);
}

/// Number and name under the face, and under them where it lies.
template <class T>
void faces_picture<T>::captions(std::size_t i) {
    const double first = room_.height + 1.8 * em_, indent = 2.5 * em_;
    if (is_slab(i)) disc(0.95 * em_, first - 0.34 * em_, i + 1);
    label(indent, first, name_of_face(i), {.bold = true, .room = room_.width + (gap_ems - 0.6) * em_ - indent});
    label(indent, first + 1.4 * em_, place_of_face(i), {.size = 0.95});
}

template <class T>
std::vector<std::string> faces_picture<T>::picture_notes() const {
    const auto any = [](const auto& lines) {
        return std::any_of(lines.begin(), lines.end(), [](const auto& face) { return !face.empty(); });
    };
    // Tracings may have their tail on the side of less `across`, drawn as seen.
    double tail_beyond = 0.0;
    for (const cut_face& f : faces_) tail_beyond += painted_silhouette(f.painted).tail_on_the_right();
    const bool flank_on_the_right = (faces_.front().flank == loin_side::right) == (tail_beyond >= 0.0);
    std::vector<std::string> notes{"Each slab's face towards the rib end, seen from there: chine edge on the " +
                                       std::string(flank_on_the_right ? "left" : "right") + ", fat side up.",
                                   "At: distance from the rib end."};
    if (any(trims_)) notes.back() += " Dashed: trim to here.";
    if (any(divisions_)) notes.back() += " Dotted: divide into equal weights.";
    if (std::any_of(seen_.begin(), seen_.end(), [](const visible_face& f) { return layer_under_fat(f) != nullptr; }))
        notes.push_back(
            std::string("From tape readings: depths, widths and areas are as read, the curves between them assumed") +
            (drawn_[tissue::gluteus_medius] ? ", as is the place of the gluteus medius." : "."));
    return notes;
}

template <class T>
std::string faces_picture<T>::description() const {
    std::string text = "Each slab's face towards the rib end, all to one scale: ";
    for (std::size_t i = 0; i < faces_.size(); ++i) {
        if (is_slab(i)) text += std::to_string(i + 1) + ' ';
        text += name_of_face(i) + ' ' + place_of_face(i) + (i + 1 < faces_.size() ? "; " : ".");
    }
    return text;
}

} // namespace detail

/// The faces of a plan (`cut_faces`) as a self-contained SVG picture: small multiples in cutting order, all to one
/// scale with a bar; the model's outlines to 0.01 mm; under each its slab's number and name and the distance from the
/// rib end. Dashed lines are the trims of that slab, dotted ones divide it into its pieces. Throws `invalid_input` for
/// other faces than the plan has, or faces without outlines. O(slabs × corners²). Distances are written in `units`.
template <class = detail::when_called>
[[nodiscard]] std::string faces_svg(const std::vector<cut_face>& faces, const cutting_plan& cuts,
                                    const kitchen_units& units = us_kitchen) {
    if (faces.size() != cuts.slabs.size() + 1)
        throw invalid_input("faces", std::to_string(faces.size()),
                            "one a slab and the last, " + std::to_string(cuts.slabs.size() + 1));
    return detail::faces_picture(faces, cuts, units, detail::faces_room(faces)).draw();
}

} // namespace tranche
