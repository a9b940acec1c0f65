// The tail of a face from tape readings: the outer edge of the face, stretched to where the eye ends, and a taper beyond.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/tape/detail/comma_face.hpp>
#include <tranche/loin/tape/detail/false_position.hpp>
#include <tranche/loin/tape/detail/tail_shape.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The outer edge of a tail over the flank end of a face: the arc of the face itself, from the middle (0) to the end (1) stretched
/// so that at the end it still has the height `high`: at X it has that of the face at X (1 - (1 - l) X^k), l being where the
/// face is so high. k makes the area right. Where k = 0 is not enough, the edge is raised towards a level line.
template <class = when_called>
class stretched_arc {
public:
    stretched_arc(const comma_columns& face, double high, double area_over_the_face) : high_(high) {
        const std::size_t first = face.middle, last = face.across.size() - 1;
        for (std::size_t i = first; i <= last; ++i) {
            place_.push_back((face.across[i] - face.across[first]) / (face.across[last] - face.across[first]));
            top_.push_back(face.top[i]);
        }
        half_ = face.across[last] - face.across[first];
        std::size_t below = 1; // the first column that is lower, or else the last
        while (below + 1 < top_.size() && top_[below] >= high) ++below;
        const double from = top_[below - 1], to = top_[below];
        const double part = from > to ? std::clamp((from - high) / (from - to), 0.0, 1.0) : 1.0;
        end_ = place_[below - 1] + unfused(part * (place_[below] - place_[below - 1]));
        reach(area_over_the_face / half_);
    }

    /// Beside the columns of the face from its middle on.
    [[nodiscard]] const std::vector<double>& edge() const { return edge_; }

private:
    [[nodiscard]] double height_at(double x) const {
        const auto next = std::clamp<std::ptrdiff_t>(std::upper_bound(place_.begin(), place_.end(), x) - place_.begin(),
                                                     1, static_cast<std::ptrdiff_t>(place_.size()) - 1);
        const auto i = static_cast<std::size_t>(next);
        const double part = (x - place_[i - 1]) / (place_[i] - place_[i - 1]);
        return top_[i - 1] + unfused(part * (top_[i] - top_[i - 1]));
    }
    void stretch(double k) {
        edge_.resize(top_.size());
        for (std::size_t i = 0; i + 1 < top_.size(); ++i)
            edge_[i] = std::max(top_[i], height_at(place_[i] * (1.0 - unfused((1.0 - end_) * std::pow(place_[i], k)))));
        edge_.back() = high_;
    }
    /// The mean over the half face of part(i).
    template <class Part>
    [[nodiscard]] double mean_of(Part part) const {
        double sum = 0.0;
        for (std::size_t i = 1; i < place_.size(); ++i)
            sum += unfused(0.5 * (place_[i] - place_[i - 1]) * (part(i - 1) + part(i)));
        return sum;
    }
    void reach(double wanted) {
        const auto missing = [&](double k) {
            stretch(k);
            return wanted - mean_of([&](std::size_t i) { return edge_[i] - top_[i]; });
        };
        zero_bracket b{.below = missing(0.0)};
        if (b.below >= 0.0) {
            const auto room = [&](std::size_t i) { return (1.0 - place_[i]) * (top_.front() - edge_[i]); };
            const double all = mean_of(room), part = all > 0.0 ? b.below / all : 0.0;
            for (std::size_t i = 0; i < edge_.size(); ++i) edge_[i] += unfused(part * room(i));
            return;
        }
        b.high = 1.0, b.above = missing(b.high);
        while (b.above < 0.0 && b.high < 1e6) {
            b.low = b.high, b.below = b.above;
            b.high *= 2.0;
            b.above = missing(b.high);
        }
        (void)false_position(b, 1e-15 * top_.front(), missing);
    }

    double high_, half_ = 0.0, end_ = 1.0;
    std::vector<double> place_, top_, edge_;
};

/// The outline of a tail that reaches so far beyond the face, with a mean thickness of `tail_depth` times the depth: from under
/// the flank end along the board to the tip, back in a straight line (or level first) to where the eye ends, and over the
/// flank end to the top of the face. What lies in front of any upright line beyond the eye is what the `layer_taper` says.
template <class = when_called>
[[nodiscard]] outline tail_outline(const comma_columns& face, double depth, double reach, double tail_depth,
                                   const tail_shape& shape) {
    const std::size_t last = face.across.size() - 1;
    const double high = depth * shape.height(tail_depth), end = face.across[last];
    outline tail;
    const auto add = [&](double x, double y) { tail.points.push_back(to_outline_point({x, y})); };
    const auto add_beyond = [&] {
        add(end + reach, 0.0);
        if (shape.taper.level > 0.0) add(end + unfused(shape.taper.level * reach), high);
        add(end, high);
    };
    if (!(shape.on_the_flank() > 0.0)) { // beside an upright end
        add(end, 0.0);
        add_beyond();
        return tail;
    }
    double under = 0.0;
    for (std::size_t i = face.middle + 1; i <= last; ++i)
        under += unfused(0.5 * (face.across[i] - face.across[i - 1]) * (face.bottom[i] + face.bottom[i - 1]));
    const double over = std::max(0.0, unfused(shape.on_the_flank() * (tail_depth * depth * reach)) - under);
    const std::vector<double> edge = stretched_arc<>(face, high, over).edge();
    std::size_t lifted = face.middle; // the last column on the board
    while (lifted + 1 < last && !(face.bottom[lifted + 1] > 0.0)) ++lifted;
    add(face.across[lifted], 0.0);
    add_beyond();
    std::size_t joined = face.middle; // the last column before the edges part
    while (joined + 1 < last && !(edge[joined + 1 - face.middle] > face.top[joined + 1])) ++joined;
    for (std::size_t i = last; i-- > joined;) add(face.across[i], edge[i - face.middle]);
    for (std::size_t i = joined + 1; i <= last; ++i) add(face.across[i], face.top[i]);
    for (std::size_t i = last; i-- > lifted + 1;) add(face.across[i], face.bottom[i]);
    return tail;
}

} // namespace tranche::detail
