// A traced face taken apart: the areas of its tissues, and how deep its fat and how long its tail are.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/face.hpp>
#include <tranche/loin/outline/detail/near_lean.hpp>
#include <tranche/loin/outline/detail/section_columns.hpp>
#include <tranche/loin/outline/detail/sweep.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche::detail {

/// How far the furthest of some columns reaches from the sides of the lean. The distance from one side is convex, so that no
/// place of a column lies further from it than one of the column's corners: the least of that over all sides is a bound for
/// the column, and the one with the highest bound is cut in two until none can hold a place further than a known one.
template <class = when_called>
class deepest_place {
public:
    explicit deepest_place(const traced_regions& face) {
        for (const flat_region* region : {&face.eye, &face.gluteus_medius})
            for (const flat_ring& ring : region->rings())
                for_each_side(ring, [&](flat_point a, flat_point b) {
                    const double dx = b.x - a.x, dy = b.y - a.y;
                    sides_.push_back({a, dx, dy, 1.0 / (unfused(dx * dx) + unfused(dy * dy))});
                });
    }

    /// In metres, to a tenth of a micrometre; where a ridge makes that endless, at most as much more as its columns are wide
    /// after `most_cuts`, and never less. O(columns × sides).
    [[nodiscard]] double of(const section_part& part) const {
        double deepest = 0.0;
        std::vector<candidate> heap;
        const auto lower = [](const candidate& a, const candidate& b) { return a.bound < b.bound; };
        const auto consider = [&](const section_column& column) {
            heap.push_back({column, std::sqrt(rough_bound(column))});
            std::push_heap(heap.begin(), heap.end(), lower);
        };
        for (const section_column& column : part) consider(column);
        for (int cuts = 0; !heap.empty(); ++cuts) {
            std::pop_heap(heap.begin(), heap.end(), lower);
            const candidate top = heap.back();
            heap.pop_back();
            if (!(top.bound > deepest + tolerance)) break;
            if (cuts == most_cuts) return top.bound;
            const auto [furthest, bound] = squares_of(top.column);
            deepest = std::max(deepest, std::sqrt(furthest));
            if (!(std::sqrt(bound) > deepest + tolerance)) continue;
            const auto [one, other] = halves(top.column);
            consider(one);
            consider(other);
        }
        return deepest;
    }

private:
    static constexpr double tolerance = 1e-7;
    static constexpr int most_cuts = 2000;
    struct lean_side {
        flat_point from;
        double dx, dy, per_square;
        [[nodiscard]] double square_to(flat_point p) const {
            const double u = p.x - from.x, v = p.y - from.y;
            const double t = std::clamp((unfused(u * dx) + unfused(v * dy)) * per_square, 0.0, 1.0);
            const double x = u - unfused(t * dx), y = v - unfused(t * dy);
            return unfused(x * x) + unfused(y * y);
        }
    };
    struct candidate {
        section_column column;
        double bound = 0.0;
    };

    [[nodiscard]] static std::array<flat_point, 4> corners_of(const section_column& c) {
        return {flat_point{c.left, c.low_left}, flat_point{c.left, c.high_left}, flat_point{c.right, c.low_right},
                flat_point{c.right, c.high_right}};
    }
    /// By the side that is nearest to its middle.
    [[nodiscard]] double rough_bound(const section_column& c) const {
        const flat_point middle{0.5 * (c.left + c.right),
                                0.25 * (c.low_left + c.low_right + c.high_left + c.high_right)};
        const lean_side* nearest = nullptr;
        double least = std::numeric_limits<double>::infinity(), bound = 0.0;
        for (const lean_side& side : sides_)
            if (const double square = side.square_to(middle); square < least) least = square, nearest = &side;
        for (const flat_point corner : corners_of(c)) bound = std::max(bound, nearest->square_to(corner));
        return bound;
    }
    /// The distance of its furthest corner, and its bound.
    [[nodiscard]] std::pair<double, double> squares_of(const section_column& c) const {
        const std::array<flat_point, 4> corners = corners_of(c);
        std::array<double, 4> nearest{};
        nearest.fill(std::numeric_limits<double>::infinity());
        double bound = nearest[0];
        for (const lean_side& side : sides_) {
            double furthest = 0.0;
            for (std::size_t i = 0; i < corners.size(); ++i) {
                const double square = side.square_to(corners[i]);
                nearest[i] = std::min(nearest[i], square);
                furthest = std::max(furthest, square);
            }
            bound = std::min(bound, furthest);
        }
        return {*std::max_element(nearest.begin(), nearest.end()), bound};
    }
    [[nodiscard]] static std::pair<section_column, section_column> halves(const section_column& c) {
        const double height = std::max(c.high_left - c.low_left, c.high_right - c.low_right);
        if (c.right - c.left > height) {
            const double middle = 0.5 * (c.left + c.right);
            return {between(c, c.left, middle), between(c, middle, c.right)};
        }
        section_column low = c, high = c;
        low.high_left = high.low_left = 0.5 * (c.low_left + c.high_left);
        low.high_right = high.low_right = 0.5 * (c.low_right + c.high_right);
        return {low, high};
    }

    std::vector<lean_side> sides_;
};

/// A traced face taken apart. Each point of the whole face belongs to the first of eye, gluteus medius and tail that it lies
/// in, or else to the fat.
template <class = when_called>
class traced_tissues {
public:
    /// `regions` are those of curves that passed `validate`. Throws `invalid_input`, with `where` before the outline's name,
    /// if more than a hundredth of one lies outside the whole face or on another. Less is the thickness of the pencil.
    traced_tissues(traced_regions regions, const std::string& where) : regions_(std::move(regions)) {
        take_apart(where);
    }

    /// Areas by the shoelace formula. A silverskin is what of the fat lies no further from the lean than it is thick; the
    /// depth of what is left is measured from there. Exact but for rounding; the greatest depth as `deepest_place` says.
    [[nodiscard]] face measured(length silverskin) const {
        face f;
        f.areas[tissue::eye] = area::from_value(regions_.eye.area());
        f.areas[tissue::gluteus_medius] = area::from_value(regions_.gluteus_medius.area());
        f.areas[tissue::tail] = area::from_value(regions_.tail.area());
        const double fat = std::max(0.0, regions_.whole.area() - regions_.eye.area() - regions_.gluteus_medius.area() -
                                             regions_.tail.area());
        const auto [left, right] = regions_.whole.extent(&flat_point::x);
        const auto [low, high] = regions_.whole.extent(&flat_point::y);
        f.width = length::from_value(right - left);
        f.depth = length::from_value(high - low);

        const near_lean<> near(regions_);
        const double skin = silverskin.value(), band = skin > 0.0 ? std::min(fat, fat_within(near, skin)) : 0.0;
        f.areas[tissue::connective] = area::from_value(band);
        f.areas[tissue::fat_cover] = area::from_value(fat - band);
        f.fat_cover = fat_layer(near, skin, band);
        if (!regions_.tail.empty()) f.tail = tail_layer();
        return f;
    }

private:
    [[nodiscard]] double fat_within(const near_lean<>& near, double distance) const {
        return std::max(0.0, near.area_within(distance) - lean_);
    }

    [[nodiscard]] layer fat_layer(const near_lean<>& near, double skin, double band) const {
        const double thickness = deepest_place<>(regions_).of(fat_) - skin, all = area_of(fat_) - band;
        if (!(thickness > 0.0 && all > 0.0)) return {};
        layer result{.thickness = length::from_value(thickness)};
        double before = 0.0;
        for (std::size_t k = 0; k + 1 < result.spread.size(); ++k) {
            const double within = fat_within(near, skin + unfused(thickness * even_spread[k])) - band;
            result.spread[k] = before = std::clamp(within / all, before, 1.0);
        }
        result.spread.back() = 1.0;
        return result;
    }

    /// By its length from the edge of the eye, straight across.
    [[nodiscard]] layer tail_layer() const {
        const auto [eye_left, eye_right] = regions_.eye.extent(&flat_point::x);
        const auto [tail_left, tail_right] = regions_.tail.extent(&flat_point::x);
        const bool beyond = tail_left + tail_right > eye_left + eye_right; // the eye, seen from the chine
        const double reach = beyond ? tail_right - eye_right : eye_left - tail_left;
        if (!(reach > 0.0 && area_of(tail_) > 0.0)) return {};
        return {length::from_value(reach), beyond ? spread_across(tail_, eye_right, eye_right + reach)
                                                  : spread_across(tail_, eye_left, eye_left - reach)};
    }

    /// Throws if too much of a region lies outside the whole face or on one of the others; finds the fat.
    void take_apart(const std::string& where) {
        enum group { whole, eye, second_muscle, tail, groups };
        outline_sweep<> curves;
        curves.add(regions_.whole.rings(), whole);
        curves.add(regions_.eye.rings(), eye);
        curves.add(regions_.gluteus_medius.rings(), second_muscle);
        curves.add(regions_.tail.rings(), tail);
        const auto in = [](int kind, group which) { return (kind >> which) % 2 != 0; };
        const auto kind_of = [](const std::vector<passed_curves>& passed) {
            int kind = 0;
            for (std::size_t k = 0; k < groups; ++k) kind += passed[k].around() ? 1 << k : 0;
            return kind;
        };
        std::array<double, groups> misplaced{};
        curves.cells(groups, kind_of,
                     [&](int kind, double left, double right, const met_side& low, const met_side& high) {
                         const section_column cell = column_between(left, right, low, high);
                         if (!(cell.area() > 0.0)) return;
                         const bool on = in(kind, whole), lean = in(kind, eye) || in(kind, second_muscle);
                         if (in(kind, eye) && !on) misplaced[eye] += cell.area();
                         if (in(kind, second_muscle) && (!on || in(kind, eye))) misplaced[second_muscle] += cell.area();
                         if (in(kind, tail) && (!on || lean)) misplaced[tail] += cell.area();
                         if (in(kind, tail)) tail_.push_back(cell);
                         if (!on || in(kind, tail)) return;
                         if (lean)
                             lean_ += cell.area();
                         else
                             fat_.push_back(cell);
                     });
        const auto require_apart = [&](const flat_region& region, group of, const char* name) {
            const double bad = misplaced[of], all = region.area();
            if (bad > 0.01 * all)
                throw invalid_input(where + name,
                                    "an outline with " + detail::shown(100.0 * bad / all, 1) + " % of its area outside",
                                    "one inside the whole face and clear of the other tissues");
        };
        require_apart(regions_.eye, eye, "eye");
        require_apart(regions_.gluteus_medius, second_muscle, "gluteus_medius");
        require_apart(regions_.tail, tail, "tail");
    }

    traced_regions regions_;
    section_part fat_, tail_;
    double lean_ = 0.0; ///< on the whole face and not on the tail, in square metres
};

} // namespace tranche::detail
