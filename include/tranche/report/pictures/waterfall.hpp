// A waterfall of money as SVG: what was paid for which part, what came back of it, and what was saved or lost.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/report/pictures/detail/chart.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

template <currency C>
class waterfall_chart : chart<> {
public:
    waterfall_chart(const std::vector<cost_step<C>>& steps, std::string name)
        : chart<>(std::move(name)), steps_(steps) {
        double low = 0.0, high = 0.0;
        for (const cost_step<C>& s : steps_) {
            low = std::min(low, whole(s.level));
            high = std::max(high, whole(s.level));
        }
        if (!(high > low)) high = low + 1.0;
        low_ = low;
        scale_ = (right - left) / (high - low);
        // Marks at least as far apart as their figures are wide.
        step_ = round_step((high - low) / 10.0);
        for (int k = 0; k < 3; ++k)
            if (step_ * scale_ < 1.2 * em * std::max(ems_of(detail::shown(low)), ems_of(detail::shown(high))))
                step_ = round_step(1.5 * step_);
    }

    [[nodiscard]] std::string draw(const std::string& title) {
        const double foot = top + row * static_cast<double>(steps_.size());
        begin(foot + 3.2 * em, title, description());
        label("title", edge, 1.4 * em, title, "start", width - 2.0 * edge, true);
        for (double mark = std::ceil(low_ / step_) * step_; place(mark) <= right + 1e-6; mark += step_) {
            const double x = place(mark);
            line("mark", x, top - 0.3 * em, x, foot, 0.75, "#BBBBBB");
            label("mark", x, top - 0.6 * em, detail::shown(std::abs(mark) < 1e-9 * step_ ? 0.0 : mark), "middle",
                  step_ * scale_);
        }
        label("mark", width - edge, top - 0.6 * em, std::string(C::code), "end", width - edge - right);
        line("zero", place(0.0), top - 0.3 * em, place(0.0), foot, 1.5);
        for (std::size_t i = 0; i < steps_.size(); ++i) step(i);
        double x = swatch(edge, foot + 2.0 * em, palette::vermillion, "stripes", "paid");
        x = swatch(x, foot + 2.0 * em, palette::orange, "cross", "paid for what was lost");
        x = swatch(x, foot + 2.0 * em, palette::sky_blue, {}, "came back");
        (void)swatch(x, foot + 2.0 * em, palette::black, {}, "total");
        return end();
    }

private:
    static constexpr double edge = 12.0, left = 372.0, right = 836.0, top = 4.4 * em, row = 1.8 * em;

    [[nodiscard]] static double whole(amount<C> a) { return to_money(a).value(); }
    [[nodiscard]] double place(double value) const { return left + (value - low_) * scale_; }

    void step(std::size_t i) {
        const cost_step<C>& s = steps_[i];
        const double y = top + row * static_cast<double>(i), base = y + 1.15 * em;
        const double from = s.total ? place(0.0) : place(whole(s.level) - whole(s.change)), to = place(whole(s.level));
        const bool out = s.change < amount<C>{}, lost = s.part == savings_part::loss;
        const std::string_view colour = s.total ? palette::black
                                        : lost  ? palette::orange
                                        : out   ? palette::vermillion
                                                : palette::sky_blue;
        const std::string_view over = s.total ? "" : lost ? "cross" : out ? "stripes" : "";
        if (s.total) line("rule", edge, y, width - edge, y, 0.75);
        label("step", edge, base, printable(s.text), "start", left - edge - em, s.total);
        bar(s.total ? "total" : "step", std::min(from, to), y + 0.25 * em, std::max(std::abs(to - from), 0.75),
            row - 0.5 * em, colour, over);
        if (i + 1 < steps_.size()) line("link", to, y + row - 0.25 * em, to, y + row + 0.25 * em, 0.75);
        label("value", width - edge, base, (s.total || s.change <= amount<C>{} ? "" : "+") + number_of(s.change), "end",
              width - edge - right - 0.5 * em, s.total);
    }

    /// Every step in words, for those who do not see the picture.
    [[nodiscard]] std::string description() const {
        std::string text;
        for (const cost_step<C>& s : steps_)
            text += (text.empty() ? "" : ", ") + printable(s.text) + ' ' + number_of(s.change);
        return text + "; in " + std::string(C::code) + '.';
    }

    const std::vector<cost_step<C>>& steps_;
    double low_ = 0.0, scale_ = 1.0, step_ = 1.0;
};

} // namespace detail

/// The steps of `cost_breakdown` as floating bars, one a row, each with its text and amount, on a common axis; totals reach to
/// zero. Self-contained; money out is striped, what was lost crossed, totals are black, so that it reads in greyscale.
/// `against` is the alternative, empty if there is none; `name` begins the ids, for pages with several pictures. Throws
/// `invalid_input` for no steps. O(steps).
template <currency C>
[[nodiscard]] std::string waterfall_svg(const std::vector<cost_step<C>>& steps, const std::string& against,
                                        const std::string& name = "waterfall") {
    if (steps.empty()) throw invalid_input("steps", "none", "at least one");
    return detail::waterfall_chart<C>(steps, name)
        .draw("Where the money went" + (against.empty() ? "" : ", against " + detail::printable(against)));
}

} // namespace tranche
