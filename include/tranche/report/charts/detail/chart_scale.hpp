// The scale of a chart's axis: where a value stands, round marks with their texts, and powers of ten for what is huge or tiny.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/charts/chart_axis.hpp>
#include <tranche/report/formats/detail/round_step.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// "field[3]".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string element_of(const std::string& field, std::size_t i) {
    return field + '[' + std::to_string(i) + ']';
}

/// Throws `invalid_input` unless the value is finite and, on a logarithmic axis, above zero.
template <class = when_called>
void require_on_axis(double value, const chart_axis& axis, const std::string& field) {
    if (!std::isfinite(value)) throw invalid_input(field, shown(value), "a finite number");
    if (axis.logarithmic && !(value > 0.0))
        throw invalid_input(field, shown(value), "a number above zero, on a logarithmic axis");
}

/// "10⁶", "10⁻³".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string power_text(int power) {
    static constexpr std::array<const char*, 10> raised{"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    std::string text = "10";
    if (power < 0) text += "⁻";
    for (const char digit : std::to_string(std::abs(power))) text += raised[static_cast<std::size_t>(digit - '0')];
    return text;
}

/// A number with so many decimals and no exponent, however large; with its zeros, or without them. Never "-0".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string decimal_text(double value, int decimals, bool zeros) {
    std::array<char, 400> digits{};
    const auto [end, error] =
        std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed, decimals);
    std::string text(digits.data(), end);
    if (!zeros && decimals > 0) {
        while (text.back() == '0') text.pop_back();
        if (text.back() == '.') text.pop_back();
    }
    if (text.front() == '-' && text.find_first_of("123456789") == std::string::npos) text.erase(0, 1);
    return text;
}

struct scale_mark {
    double at = 0.0; ///< in the picture
    std::string text{};
};

/// From the least value to the greatest with some room, or a good unit around values that are all alike. Where the values are huge or
/// tiny, the axis is in a power of ten (a multiple of three), which its title says. Values from -10^308 to 10^308.
template <class = when_called>
class chart_scale {
public:
    chart_scale() = default;
    /// `values` in any order and finite; `room` is the share of their span that stays free at either end.
    chart_scale(chart_axis words, std::span<const double> values, double room) : words_(std::move(words)) {
        words_.title = printable(words_.title);
        words_.unit = printable(words_.unit);
        double low =
            values.empty() ? (words_.logarithmic ? 1.0 : 0.0) : *std::min_element(values.begin(), values.end());
        double high =
            values.empty() ? (words_.logarithmic ? 10.0 : 1.0) : *std::max_element(values.begin(), values.end());
        if (words_.logarithmic) {
            low = std::log10(low);
            high = std::log10(high);
        } else {
            const double most = std::max(std::abs(low), std::abs(high));
            const int tens = most > 0.0 ? static_cast<int>(std::floor(std::log10(most))) : 0;
            if (tens >= 6 || tens < -3) power_ = 3 * static_cast<int>(std::floor(tens / 3.0));
            low = scaled(low);
            high = scaled(high);
        }
        const double most = std::max(std::abs(low), std::abs(high));
        // Values alike get some height; what differs in the tenth digit only, or on a logarithmic
        // axis by half a per cent, is alike.
        if (!(high - low > (words_.logarithmic ? 2e-3 : 1e-9 * most))) {
            const double half = words_.logarithmic ? 0.5 : most > 0.0 ? 0.05 * most : 1.0;
            const double middle = 0.5 * (low + high);
            low = middle - half;
            high = middle + half;
        } else {
            const double pad = room * (high - low);
            // Room does not lead across zero, where a value of another sign would seem to be possible.
            low = low >= 0.0 && low < pad && !words_.logarithmic ? 0.0 : low - pad;
            high = high <= 0.0 && -high < pad && !words_.logarithmic ? 0.0 : high + pad;
        }
        axis_.low = low;
        axis_.high = high;
    }

    /// Where the axis stands in the picture.
    void stand(double from, double to) {
        axis_.from = from;
        axis_.to = to;
    }
    /// Where a value stands; one beyond the ends stands at the end.
    [[nodiscard]] double at(double value) const { return axis_.at(std::clamp(inner(value), axis_.low, axis_.high)); }
    [[nodiscard]] bool logarithmic() const { return words_.logarithmic; }
    [[nodiscard]] const chart_axis& words() const { return words_; }
    /// Whether the value lies between the ends.
    [[nodiscard]] bool holds(double value) const {
        return (!words_.logarithmic || value > 0.0) && inner(value) >= axis_.low && inner(value) <= axis_.high;
    }

    /// "thickness, in", "weight, 10⁶ g".
    [[nodiscard]] std::string title() const {
        std::string unit = power_ == 0 ? std::string{} : power_text(power_);
        if (!words_.unit.empty()) unit += (unit.empty() ? "" : " ") + words_.unit;
        if (words_.title.empty() || unit.empty()) return words_.title + unit;
        return words_.title + ", " + unit;
    }
    /// A value as it is read on this axis, to some thousandth of its length.
    [[nodiscard]] std::string figure(double value) const {
        if (words_.logarithmic) return log_text(value);
        return decimal_text(scaled(value), decimals_of((axis_.high - axis_.low) / 500.0), false);
    }
    /// The same with power and unit, for sentences: "12.5 g", "3.2 × 10⁶ g".
    [[nodiscard]] std::string in_words(double value) const {
        std::string text = figure(value);
        if (power_ != 0) text += " × " + power_text(power_);
        return words_.unit.empty() ? text : text + ' ' + words_.unit;
    }

    /// Round marks; across (`upright` false) their texts have room beside each other, along they stand three letters apart.
    [[nodiscard]] std::vector<scale_mark> marks(double em, bool upright) const {
        for (double gap = (upright ? 3.0 : 4.0) * em;; gap *= 1.25) {
            std::vector<scale_mark> all = marks_apart(gap);
            double room = std::abs(axis_.to - axis_.from), widest = 0.0;
            for (std::size_t i = 0; i < all.size(); ++i) {
                if (i > 0) room = std::min(room, std::abs(all[i].at - all[i - 1].at));
                widest = std::max(widest, width_of_text(all[i].text, em));
            }
            if (upright || all.size() < 2 || widest + 0.8 * em <= room) return all;
        }
    }

private:
    [[nodiscard]] double scaled(double value) const {
        if (power_ == 0) return value;
        if (power_ > -300) return value / std::pow(10.0, power_);
        return value * 1e300 / std::pow(10.0, power_ + 300);
    }
    [[nodiscard]] double inner(double value) const { return words_.logarithmic ? std::log10(value) : scaled(value); }
    /// Decimals that tell two numbers a step apart.
    [[nodiscard]] static int decimals_of(double step) {
        return std::clamp(static_cast<int>(std::ceil(-std::log10(step) - 1e-9)), 0, 12);
    }
    [[nodiscard]] static std::string log_text(double value) {
        const double tens = std::log10(value);
        const int power = static_cast<int>(std::floor(tens + 1e-9));
        const double front = std::pow(10.0, tens - power); // 1 to 10
        if (power >= -3 && power < 6) return decimal_text(value, std::max(0, 3 - power), false);
        if (std::abs(front - 1.0) < 1e-9) return power_text(power);
        return decimal_text(front, 3, false) + " × " + power_text(power);
    }
    [[nodiscard]] std::vector<scale_mark> marks_apart(double gap) const {
        std::vector<scale_mark> all;
        if (!words_.logarithmic) {
            const double step = axis_.step(gap);
            for (const double value : axis_.marks(step))
                all.push_back({axis_.at(value), decimal_text(value, decimals_of(step), true)});
            return all;
        }
        const double a_decade = std::abs(axis_.at(1.0) - axis_.at(0.0));
        const double step = std::max(1.0, std::ceil(gap / a_decade));
        for (double power = std::ceil(axis_.low / step - 1e-9) * step; power <= axis_.high + 1e-9; power += step)
            all.push_back({axis_.at(power), decade_text(1, static_cast<int>(std::lround(power)))});
        if (all.size() >= 3) return all;
        // Less than some decades: 1, 2 and 5 of each, as far as they stand apart.
        std::vector<scale_mark> finer;
        for (double power = std::floor(axis_.low); power <= axis_.high; ++power)
            for (const int front : {1, 2, 5}) {
                const double place = power + std::log10(front);
                if (place < axis_.low - 1e-9 || place > axis_.high + 1e-9) continue;
                if (!finer.empty() && std::abs(axis_.at(place) - finer.back().at) < gap) continue;
                finer.push_back({axis_.at(place), decade_text(front, static_cast<int>(power))});
            }
        if (finer.size() >= 3) return finer;
        // Hardly any way at all: even steps.
        const double from = std::pow(10.0, axis_.low), to = std::pow(10.0, axis_.high),
                     even = round_step((to - from) / 5.0);
        all.clear();
        for (const double value : picture_axis{.low = from, .high = to}.marks(even)) {
            const double place = axis_.at(std::log10(value));
            if (!all.empty() && std::abs(place - all.back().at) < gap) continue;
            all.push_back({place, log_text(value)});
        }
        return all.size() > finer.size() ? all : finer;
    }
    /// 1, 2 or 5 of a power of ten, all of an axis alike: as decimals, or with powers.
    [[nodiscard]] std::string decade_text(int front, int power) const {
        if (axis_.low > -4.5 && axis_.high < 6.5)
            return decimal_text(front * std::pow(10.0, power), std::max(0, -power), true);
        return front == 1 ? power_text(power) : std::to_string(front) + " × " + power_text(power);
    }

    chart_axis words_{};
    picture_axis axis_{};
    int power_ = 0;
};

} // namespace tranche::detail
