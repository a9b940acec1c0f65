// The outlines of the tissues on a tilted plane, put together from what straight faces show on lines across the tilt.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/loin/outline/detail/seen_line.hpp>
#include <tranche/loin/outline/detail/sweep.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/tissue.hpp>

namespace tranche::detail {

/// Straight faces at even stations of a loin, turned so that the knife is tilted along x. A tilted plane meets each of its
/// lines x = w on the straight face of one station, origin - w tan θ; so what it shows there is what the faces on both sides
/// of that station show, interpolated. Only faces that are asked for are made, once each.
template <class MakeFace>
class tilted_outlines {
public:
    using straight_face = std::vector<painted_region>;

    /// `count` faces, make(0) and on, two or more, at the ends of a loin of this length in metres and evenly between; across
    /// the tilt they lie between `low` and `high`.
    tilted_outlines(MakeFace make, std::size_t count, double loin, double tangent, double low, double high)
        : make_(std::move(make)), faces_(count), loin_(loin), tangent_(tangent), low_(low), high_(high) {}

    /// The seen tissues, in the order in which to paint them: the fat as all of the face, under it connective tissue with
    /// the lean, the eye with the gluteus medius. Each is made of columns between lines, which stand closer towards both
    /// sides and on both sides of every place where other tissues come into sight. O(lines × corners).
    [[nodiscard]] std::vector<std::pair<tissue, section_part>> painted(double origin) {
        const std::vector<place> places = places_across(origin);
        by_tissue<bool> seen{};
        for (const place& p : places)
            for (const seen_stretch& s : p.line) seen[s.fill] = true;
        std::vector<std::pair<tissue, section_part>> parts;
        const auto add = [&](tissue t, auto&& with) {
            if (seen[t]) parts.emplace_back(t, columns_of(places, with));
        };
        add(tissue::fat_cover, [](tissue) { return true; });
        add(tissue::connective, [](tissue t) { return t != tissue::fat_cover && t != tissue::tail; });
        add(tissue::tail, [](tissue t) { return t == tissue::tail; });
        add(tissue::eye, [](tissue t) { return t == tissue::eye || t == tissue::gluteus_medius; });
        add(tissue::gluteus_medius, [](tissue t) { return t == tissue::gluteus_medius; });
        return parts;
    }

private:
    static constexpr std::size_t lines = 128;
    struct place {
        double w = 0.0;
        seen_line line;
    };
    struct made_face {
        straight_face face;
        // Across the tilt; of a face without outlines, upside down.
        double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();
    };

    [[nodiscard]] const made_face& face_at(std::size_t s) {
        if (!faces_[s]) {
            made_face made{.face = make_(s)};
            for (const painted_region& region : made.face) {
                const auto [low, high] = region.shape.extent(&flat_point::x);
                made.low = std::min(made.low, low), made.high = std::max(made.high, high);
            }
            faces_[s] = std::move(made);
        }
        return *faces_[s];
    }

    [[nodiscard]] seen_line line_at(double origin, double w) {
        const double station = origin - w * tangent_, spans = static_cast<double>(faces_.size() - 1);
        if (!(station >= 0.0 && station <= loin_)) return {};
        const double entry = station / loin_ * spans;
        const auto s = std::min(static_cast<std::size_t>(entry), faces_.size() - 2);
        const double t = entry - static_cast<double>(s);
        const made_face &a = face_at(s), &b = face_at(s + 1);
        if (!(a.low <= a.high) || !(b.low <= b.high)) return seen_along(t < 0.5 ? a.face : b.face, w);
        // Between two faces the sides move from those of the one to those of the other.
        if (w < (1.0 - t) * a.low + t * b.low || w > (1.0 - t) * a.high + t * b.high) return {};
        return between(seen_along(a.face, w), seen_along(b.face, w), t);
    }

    /// The last place from `from` towards `to` that shows the same tissues, and the first that shows others.
    [[nodiscard]] std::pair<place, place> change_between(double origin, place from, place to) {
        for (int i = 0; i < 40; ++i) {
            const double w = 0.5 * (from.w + to.w);
            place middle{w, line_at(origin, w)};
            (alike(from.line, middle.line) ? from : to) = std::move(middle);
        }
        return {std::move(from), std::move(to)};
    }

    /// From the first line that shows anything to the last.
    [[nodiscard]] std::pair<place, place> sides(double origin) {
        const double from = std::max(low_, (origin - loin_) / tangent_), to = std::min(high_, origin / tangent_);
        std::vector<place> tried;
        for (std::size_t i = 0; i <= lines && from <= to; ++i) {
            const double t = static_cast<double>(i) / lines, w = i == lines ? to : from + t * (to - from);
            tried.push_back({w, line_at(origin, w)});
        }
        const auto shows = [](const place& p) { return !p.line.empty(); };
        const auto first = std::find_if(tried.begin(), tried.end(), shows);
        if (first == tried.end()) return {};
        const auto last = std::find_if(tried.rbegin(), tried.rend(), shows).base() - 1;
        const place left = first == tried.begin() ? *first : change_between(origin, *(first - 1), *first).second;
        const place right = last + 1 == tried.end() ? *last : change_between(origin, *(last + 1), *last).second;
        return {left, right};
    }
    [[nodiscard]] std::vector<place> places_across(double origin) {
        auto [left, right] = sides(origin);
        if (!(left.w < right.w)) return {};
        const double middle = 0.5 * (left.w + right.w), half = 0.5 * (right.w - left.w), end = right.w;
        std::vector<place> places{std::move(left)};
        for (std::size_t i = 1; i <= lines; ++i) {
            // Even steps of the angle: of a round side all are as steep.
            const double turn = std::numbers::pi * static_cast<double>(i) / lines;
            const double w = i == lines ? end : middle - half * std::cos(turn);
            place next = i == lines ? std::move(right) : place{w, line_at(origin, w)};
            for (int changes = 0; changes < 16 && !alike(places.back().line, next.line); ++changes) {
                auto [before, behind] = change_between(origin, places.back(), next);
                behind.w = before.w; // so that columns on both sides touch
                places.push_back(std::move(before));
                places.push_back(std::move(behind));
            }
            places.push_back(std::move(next));
        }
        return places;
    }

    /// What of the tissues in `with` lies between the lines.
    template <class With>
    [[nodiscard]] static section_part columns_of(const std::vector<place>& places, With with) {
        const auto chords = [&](const place& p) {
            chord_list found;
            for (const seen_stretch& s : p.line) {
                if (!with(s.fill)) continue;
                if (!found.empty() && s.from <= found.back().second + 1e-9) // a rounding error is no gap
                    found.back().second = s.to;
                else
                    found.emplace_back(s.from, s.to);
            }
            return found;
        };
        section_part part;
        const auto add = [&](double from, double to, std::pair<double, double> left, std::pair<double, double> right) {
            const section_column column{from, to, left.first, right.first, left.second, right.second};
            if (column.area() > 0.0) part.push_back(column);
        };
        for (std::size_t i = 0; i + 1 < places.size(); ++i) {
            const double from = places[i].w, to = places[i + 1].w, middle = 0.5 * (from + to);
            if (!(from < to)) continue;
            const chord_list left = chords(places[i]), right = chords(places[i + 1]);
            if (left.size() == right.size()) {
                for (std::size_t k = 0; k < left.size(); ++k) add(from, to, left[k], right[k]);
                continue;
            }
            for (const auto& chord : left) add(from, middle, chord, chord);
            for (const auto& chord : right) add(middle, to, chord, chord);
        }
        return part;
    }

    MakeFace make_;
    std::vector<std::optional<made_face>> faces_;
    double loin_, tangent_, low_, high_;
};

} // namespace tranche::detail
