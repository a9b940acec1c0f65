// Pictures of a planned loin, from above and from the side: outline, tissues, cuts, numbered slabs and a legend.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/pictures/detail/loin_drawing.hpp>
#include <tranche/report/pictures/detail/spread_labels.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// Whether a picture of a loin lists its slabs. Beside a table of them it need not.
enum class slab_list { shown, left_out };

namespace detail {

/// A drawing with its title, labels, scale and legend around it.
template <class = when_called>
class loin_picture : loin_drawing<> {
public:
    loin_picture(loin_view from, const cutting_plan& cuts, const loin_outline& outline, const kitchen_units& units,
                 slab_list list)
        : loin_drawing<>(from, cuts, outline, units), listed_(list == slab_list::shown) {}

    [[nodiscard]] std::string draw() {
        const double numbers = 2.2 * em_ * static_cast<double>(number_rows());
        const double top = 4.6 * em_ + numbers + 1.2 * em_;
        const double under = top + height_ + 0.6 * em_;
        const double legend = under + distances_height() + 4.4 * em_;
        const std::vector<std::string> entries = listed_ ? legend_entries() : std::vector<std::string>{};
        const auto note_count = static_cast<double>(picture_notes().size()); // `slabs` only lengthens them
        const std::size_t across = legend_columns(entries);
        const std::size_t down = (entries.size() + across - 1) / across;
        const double keys = legend + 1.5 * em_ * static_cast<double>(down) + (listed_ ? 1.2 : 0.2) * em_;
        const double total = keys + 1.4 * em_ + 1.5 * em_ * note_count + em_;

        const std::string title =
            above_ ? "The loin from above, with its cuts" : "The loin from the side, with its cuts";
        begin(extent_ + 2.0 * margin(), total, title, description());
        label(margin(), 4.0 * em_, "◀ rib end", {.bold = true});
        label(margin() + extent_, 4.0 * em_, "sirloin end ▶", {.anchor = "end", .bold = true});
        begin_group(margin(), top);
        tissues();
        slabs();
        if (above_) names_inside();
        numbers_above();
        cut_distances();
        const double scale = height_ + distances_height() + 3.2 * em_;
        scale_bar(0.0, scale, extent_);
        if (figures_said_beside_scale()) label(extent_, scale, what_figures_are(), {.anchor = "end", .size = 0.9});
        end_group();
        for (std::size_t i = 0; i < entries.size(); ++i) {
            const std::size_t column = i / down, row = i % down;
            const double x = margin() + static_cast<double>(column) * extent_ / static_cast<double>(across);
            const double y = legend + 1.5 * em_ * static_cast<double>(row + 1);
            label(x + 1.2 * em_, y, std::to_string(i + 1), {.anchor = "end", .size = 0.92, .bold = true});
            label(x + 1.8 * em_, y, entries[i], {.size = 0.92});
        }
        key(margin(), keys + em_, tissues_seen(), cuts_);
        notes(keys + 2.8 * em_, picture_notes());
        return end();
    }

private:
    static constexpr double distance_letters = 0.9; // of the figures at the cuts

    void names_inside();
    void numbers_above();
    void cut_distances();
    [[nodiscard]] std::vector<tissue> tissues_seen() const;
    [[nodiscard]] std::size_t number_rows() const {
        return 1 + static_cast<std::size_t>(2.2 * em_ * static_cast<double>(cuts_.slabs.size()) / extent_);
    }
    /// Of the figures under the cuts, which stand upright.
    [[nodiscard]] double distances_height() const {
        double longest = 0.0;
        for (const slab& s : cuts_.slabs)
            longest = std::max(longest,
                               width_of_text(number_of(s.start + s.thickness, units_.along), distance_letters * em_));
        return longest + em_;
    }
    [[nodiscard]] std::string what_figures_are() const {
        return "figures at the cuts: " + std::string(unit_name(units_.along)) + " from the rib end";
    }
    [[nodiscard]] bool figures_said_beside_scale() const {
        return cuts_.slabs.size() > 1 &&
               extent_ - scale_bar_width(extent_) - em_ > width_of_text(what_figures_are(), 0.9 * em_);
    }
    [[nodiscard]] std::vector<std::string> legend_entries() const;
    [[nodiscard]] std::size_t legend_columns(const std::vector<std::string>& entries) const;
    [[nodiscard]] std::vector<std::string> picture_notes() const;
    [[nodiscard]] std::string description() const;

    bool listed_;
};

/// Name and weight of the portions, reading upwards along the slab, where it is wide enough for them.
template <class T>
void loin_picture<T>::names_inside() {
    for (const slab& s : cuts_.slabs) {
        const double thickness = s.thickness / millimetre, middle = s.start / millimetre + 0.5 * thickness;
        if (s.kind != slab_kind::portions || thickness < 1.4 * em_) continue;
        // Between lines that no edge of the slab's lean crosses.
        double meat_from = 0.0, meat_to = outline_.widest;
        for (const loin_outline::point& p : between(middle - 0.5 * thickness, middle + 0.5 * thickness)) {
            const double lean_end = p.chine + p.width - p.tail;
            meat_from = std::max(meat_from, p.chine);
            meat_to = std::min(meat_to, outline_.gluteus_medius ? std::min(lean_end, p.gluteus_medius_from) : lean_end);
        }
        const double room = (meat_to - meat_from) / cuts_.spec_of(s).pieces - 1.6 * em_;
        if (room < 3.0 * em_) continue;
        const auto write = [&](double x, const std::string& text, bool bold) {
            label(x, std::min(down(meat_from), down(meat_to)) + 0.9 * em_, printable(text),
                  {.anchor = "end", .bold = bold, .room = room, .upwards = true});
        };
        const std::string unit = unit_name(units_.portion);
        const bool both = thickness > 2.8 * em_;
        write(both ? middle - 0.65 * em_ : middle, cuts_.spec_of(s).name, true);
        if (both) write(middle + 0.65 * em_, weight_text(s, cuts_, units_) + (unit.empty() ? "" : ' ' + unit), false);
    }
}

template <class T>
void loin_picture<T>::numbers_above() {
    std::vector<double> middles;
    for (const slab& s : cuts_.slabs) middles.push_back((s.start + 0.5 * s.thickness) / millimetre);
    const std::size_t rows = number_rows();
    const std::vector<double> places =
        spread_labels(middles, 2.2 * em_ / static_cast<double>(rows), 0.5 * em_, extent_ - 0.5 * em_);
    const auto height = [&](std::size_t i) { return -em_ * (1.8 + 2.2 * static_cast<double>(i % rows)); };
    for (std::size_t i = 0; i < places.size(); ++i) {
        line("leader", places[i], height(i), places[i], -0.8 * em_, {.width = 0.08});
        line("leader", places[i], -0.8 * em_, middles[i], edge(outline_.there(middles[i])) + 0.4 * em_,
             {.width = 0.08});
    }
    for (std::size_t i = 0; i < places.size(); ++i) disc(places[i], height(i), i + 1);
}

template <class T>
void loin_picture<T>::cut_distances() {
    std::vector<length> at;
    for (std::size_t i = 0; i + 1 < cuts_.slabs.size(); ++i) at.push_back(cut_behind(cuts_.slabs[i]));
    const double gap = 1.15 * em_;
    at = every_so_many(at, label_stride(at.size(), gap, extent_));
    std::vector<double> cuts;
    for (const length& l : at) cuts.push_back(l / millimetre);
    const std::vector<double> places = spread_labels(cuts, gap, 0.0, extent_);
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double y = height_ + 1.9 * em_;
        line("leader", cuts[i], height_ + 0.6 * em_, places[i], y - 0.3 * em_, {.width = 0.08});
        label(places[i], y, number_of(at[i], units_.along),
              {.anchor = "end", .size = distance_letters, .upwards = true});
    }
}

template <class T>
std::vector<tissue> loin_picture<T>::tissues_seen() const {
    std::vector<tissue> seen{tissue::eye};
    if (outline_.gluteus_medius) seen.push_back(tissue::gluteus_medius);
    if (above_ && outline_.tail) seen.push_back(tissue::tail);
    if (!above_ && outline_.fat) seen.push_back(tissue::fat_cover);
    if (!above_ && outline_.silverskin) seen.push_back(tissue::connective);
    return seen;
}

template <class T>
std::vector<std::string> loin_picture<T>::legend_entries() const {
    std::vector<std::string> entries;
    const std::string weight = unit_name(units_.portion);
    for (const slab& s : cuts_.slabs) {
        entries.push_back(fitted(printable(what_is(s, cuts_)), cuts_.slabs.size() > 12 ? 12.0 : 18.0) + ", " +
                          to_text(shown_thickness(s, units_), units_.thickness) + ", " + weight_text(s, cuts_, units_) +
                          (weight.empty() ? "" : ' ' + weight));
    }
    return entries;
}

/// As many columns as the longest entry leaves room for.
template <class T>
std::size_t loin_picture<T>::legend_columns(const std::vector<std::string>& entries) const {
    double longest = 1.0;
    for (const std::string& entry : entries) longest = std::max(longest, width_of_text(entry, 0.92));
    return std::clamp<std::size_t>(static_cast<std::size_t>(extent_ / em_ / (longest + 2.5)), 1, 3);
}

template <class T>
std::vector<std::string> loin_picture<T>::picture_notes() const {
    std::vector<std::string> notes;
    const bool on_the_right = outline_.flank == loin_side::right;
    std::string how = above_         ? on_the_right ? "Seen through the fat cover, chine edge at the top."
                                                    : "Seen through the fat cover, chine edge at the bottom."
                      : on_the_right ? "On the board, fat side up, seen from the flank."
                                     : "On the board, fat side up, seen from the chine.";
    if (trims_drawn_) how += above_ ? " Dashed: trim the tail to here." : " Dashed: trim the fat cover to here.";
    if (divisions_drawn_) how += " Dotted: divide into equal weights.";
    notes.push_back(how);
    if (cuts_.slabs.size() > 1 && !figures_said_beside_scale()) {
        notes.push_back(what_figures_are() + '.');
        notes.back().front() = 'F';
    }
    if (outline_.gluteus_medius && !outline_.muscle_placed)
        notes.emplace_back("Gluteus medius is drawn as its share of the lean, not in its exact place.");
    if (outline_.gluteus_medius && outline_.muscle_placed && !above_)
        notes.emplace_back("Gluteus medius is drawn as the faces have it, seen through what is in front of it.");
    if (!outline_.measured)
        notes.emplace_back("Outline not measured: drawn from the weight along the loin, 2.5 times as wide as deep.");
    return notes;
}

template <class T>
std::string loin_picture<T>::description() const {
    std::string text = "Rib end on the left, sirloin end on the right. ";
    if (!listed_) return text + "Numbers are those of the cutting order.";
    text += "Slabs in order: ";
    std::size_t number = 0;
    for (const std::string& entry : legend_entries()) ((text += std::to_string(++number)) += ' ').append(entry) += "; ";
    text += "cut at, from the rib end: " + cut_positions_text(cuts_, units_) + '.';
    return text;
}

} // namespace detail

/// The loin from above as a self-contained SVG picture in true proportions: rib end on the left, and so the right side
/// of the loin, seen from there, at the bottom, be it the flank or the chine edge; eye, gluteus medius and tail; a line
/// at each cut with its distance from the rib end; numbered slabs, listed below unless left out; a scale. `outline` is
/// `outline_of` the loin's model, or of its profile where the model has no outlines of its own. Throws `invalid_input`
/// if the plan is not as long as the outline. O(points + slabs). Distances and weights are written in `units`.
template <class = detail::when_called>
[[nodiscard]] std::string view_from_above_svg(const cutting_plan& cuts, const loin_outline& outline,
                                              const kitchen_units& units = us_kitchen,
                                              slab_list list = slab_list::shown) {
    return detail::loin_picture(detail::loin_view::above, cuts, outline, units, list).draw();
}

/// The loin from its right side, seen along it from the rib end, fat cover up: silhouettes of the tissues; otherwise as
/// `view_from_above_svg`. Throws as that does. Distances and weights are written in `units`.
template <class = detail::when_called>
[[nodiscard]] std::string view_from_side_svg(const cutting_plan& cuts, const loin_outline& outline,
                                             const kitchen_units& units = us_kitchen,
                                             slab_list list = slab_list::shown) {
    return detail::loin_picture(detail::loin_view::side, cuts, outline, units, list).draw();
}

} // namespace tranche
