// The colours of the pictures: those that are published, and whether grey alone would do.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/pictures/detail/loin_canvas.hpp>

#include <array>
#include <cmath>
#include <cstddef>
#include <set>
#include <string>
#include <string_view>

#include <tranche/report/pictures/cut_ruler.hpp>
#include <tranche/report/pictures/loin_pictures.hpp>

#include "report/sample.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace loin_canvas_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

using rgb = std::array<double, 3>;

rgb channels_of(std::string_view colour) {
    REQUIRE(colour.size() == 7);
    rgb channels{};
    for (std::size_t k = 0; k < 3; ++k) channels[k] = std::stoi(std::string(colour.substr(1 + 2 * k, 2)), nullptr, 16);
    return channels;
}

/// CIE 1976 lightness of an sRGB colour, 0 to 100 (IEC 61966-2-1 and CIE 15, from memory).
double lightness(std::string_view colour) {
    const auto linear = [](double value) {
        const double c = value / 255.0;
        return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    const rgb c = channels_of(colour);
    const double y = 0.2126 * linear(c[0]) + 0.7152 * linear(c[1]) + 0.0722 * linear(c[2]);
    return y > 216.0 / 24389.0 ? 116.0 * std::cbrt(y) - 16.0 : y * 24389.0 / 27.0;
}

} // namespace

TEST_CASE("palette: has the colours of Okabe and Ito") {
    // Okabe and Ito, Color Universal Design, 2008: red, green and blue of 255; from memory.
    CHECK(channels_of(detail::palette::black) == rgb{0, 0, 0});
    CHECK(channels_of(detail::palette::orange) == rgb{230, 159, 0});
    CHECK(channels_of(detail::palette::sky_blue) == rgb{86, 180, 233});
    CHECK(channels_of(detail::palette::bluish_green) == rgb{0, 158, 115});
    CHECK(channels_of(detail::palette::yellow) == rgb{240, 228, 66});
    CHECK(channels_of(detail::palette::blue) == rgb{0, 114, 178});
    CHECK(channels_of(detail::palette::vermillion) == rgb{213, 94, 0});
    CHECK(channels_of(detail::palette::reddish_purple) == rgb{204, 121, 167});
}

TEST_CASE("loin_canvas: eye and tail are tints of the palette") {
    const auto check_tint = [](tissue t, std::string_view colour, double part) {
        const rgb tint = channels_of(detail::colour_of(t)), full = channels_of(colour);
        for (std::size_t k = 0; k < 3; ++k)
            CHECK(std::abs(tint[k] - (part * full[k] + (1.0 - part) * 255.0)) <= 1.0); // rounding of a channel
    };
    check_tint(tissue::eye, detail::palette::vermillion, 0.65);
    check_tint(tissue::tail, detail::palette::orange, 0.45);
}

TEST_CASE("loin_canvas: tissues differ in greyscale or by a pattern") {
    // Ten steps of lightness are seen at once, side by side (common practice, no source).
    for (const tissue a : all_tissues)
        for (const tissue b : all_tissues) {
            if (a == b) continue;
            CAPTURE(name_of(a), name_of(b));
            const bool apart = std::abs(lightness(detail::colour_of(a)) - lightness(detail::colour_of(b))) >= 10.0;
            CHECK((apart || detail::pattern_of(a) != detail::pattern_of(b)));
        }
}

TEST_CASE("loin_canvas: the pictures use the palette, its tints and greys alone") {
    std::set<std::string> known{"none", "#FFFFFF", "#E49659", "#F4D48C"};
    for (const std::string_view colour :
         {detail::palette::black, detail::palette::orange, detail::palette::sky_blue, detail::palette::bluish_green,
          detail::palette::yellow, detail::palette::blue, detail::palette::vermillion, detail::palette::reddish_purple})
        known.emplace(colour);
    const profile loin = meat();
    const cutting_plan cuts = least_waste(loin, specs(), rules).plan;
    const loin_outline outline = outline_of(loin);
    std::set<std::string> used;
    for (const std::string& picture :
         {view_from_above_svg(cuts, outline), view_from_side_svg(cuts, outline), cut_ruler_svg(cuts)})
        for (const xml_element& e : parse_xml(picture))
            for (const char* attribute : {"fill", "stroke"}) {
                const auto found = e.attributes.find(attribute);
                if (found == e.attributes.end() || found->second.starts_with("url(#")) continue;
                used.insert(found->second);
                CAPTURE(e.name, attribute, found->second);
                const bool hex = found->second.size() == 7 && found->second[0] == '#';
                const rgb c = hex ? channels_of(found->second) : rgb{0, 1, 2};
                CHECK((known.contains(found->second) || (c[0] == c[1] && c[1] == c[2])));
            }
    CHECK(used.contains(std::string(detail::colour_of(tissue::eye))));
    CHECK(used.contains(std::string(detail::palette::yellow)));
}

} // namespace loin_canvas_test
