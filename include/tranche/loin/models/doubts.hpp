// What is unusual about readings of a tape, and about the scale beside them: warnings, where errors would be too strict.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tape/taped_face.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

namespace detail {

/// What loins of every kind are like; common practice, no source, unless said otherwise.
inline constexpr quantity_range<length> usual_loin_length{15.0 * centimetre, 1.2 * metre};
inline constexpr quantity_range<length> usual_face_width{5.0 * centimetre, 35.0 * centimetre};
inline constexpr quantity_range<length> usual_face_depth{2.0 * centimetre, 15.0 * centimetre};
inline constexpr quantity_range<fraction> usual_depth_to_width{0.25, 1.0}; ///< depth over the width without the tail
/// Over the depth. Untrimmed pork has a quarter: 22 mm over a muscle of 67, Wilson et al. 2016, J. Anim. Sci. 94:4903.
inline constexpr quantity_range<fraction> usual_cover{0.0, 0.35};
/// Over the width. USDA IMPS Series 100 (2014), item 180 (quoted), allows 3.0 in, a third of a strip loin's.
inline constexpr quantity_range<fraction> usual_tail{0.0, 0.40};
inline constexpr quantity_range<length> usual_silverskin{0.0 * millimetre, 3.0 * millimetre};
/// An ellipse has 0.785 (computed). Of a fuller face the ends would stand upright, which no loin's do.
inline constexpr quantity_range<fraction> usual_fill{0.70, 0.82};
inline constexpr quantity_range<fraction> usual_tail_depth{0.15, 0.80};
inline constexpr quantity_range<fraction> usual_share_at_end{0.0, 0.60};
/// Of the length. From memory: it first shows on the last 2 or 3 of 12 slices.
inline constexpr quantity_range<fraction> usual_onset{0.5, 1.0};
inline constexpr quantity_range<double> usual_scale_to_tape{0.90,
                                                            1.10}; ///< a tape is good for a few parts in a hundred

[[nodiscard]] inline std::string two_decimals(double value) { return shown(std::round(100.0 * value) / 100.0); }

/// Collects what lies outside what is usual.
class doubt_list {
public:
    void size(const std::string& reading, length value, const quantity_range<length>& usual) {
        if (!(usual.min <= value && value <= usual.max))
            doubts.push_back(sentence(reading) + ": " + value + " was read; usual is " + rounded_up(usual.min) +
                             " to " + rounded_down(usual.max) + ". Was it read in another unit?");
    }
    void share(const std::string& reading, length value, length whole, const char* of_what,
               const quantity_range<fraction>& usual) {
        const double part = value / whole;
        if (!usual.contains(part))
            doubts.push_back(sentence(reading) + ": " + value + " is " + two_decimals(part) + " of " + of_what + ", " +
                             whole + "; usual is " + as_text(usual) + ".");
    }
    void plain(const std::string& reading, double value, const quantity_range<fraction>& usual) {
        if (!usual.contains(value))
            doubts.push_back(sentence(reading) + ": " + shown(value) + " was given; usual is " + as_text(usual) + ".");
    }
    std::vector<sentence> doubts{};

private:
    [[nodiscard]] static std::string as_text(const quantity_range<fraction>& usual) {
        return (usual.min > 0.0 ? two_decimals(usual.min) + " to " : "at most ") + two_decimals(usual.max);
    }
};

} // namespace detail

/// A sentence for each reading that is possible and yet unlike those of loins: it names the reading as errors do
/// ("stations[1].depth"), what was read, and what is usual. None for a loin like others. Sizes out of all proportion are taken
/// for another unit; depth against the width without the tail, cover against depth, tail against width, fill, thickness of the
/// tail, silverskin, and where the gluteus medius begins and ends are held against ranges which are common practice, no source,
/// but for those that the header gives. A doubt is no error: a plan can be made. `in_units` writes the sentences in a kitchen's
/// units. Throws what `validate` throws. O(stations).
///
///     for (const sentence& doubt : doubts(loin)) std::cerr << in_units(doubt, us_kitchen) << '\n';
template <class = detail::when_called>
[[nodiscard]] std::vector<sentence> doubts(const measured_loin& loin) {
    validate(loin);
    detail::doubt_list list;
    list.size("length", loin.length, detail::usual_loin_length);
    for (std::size_t i = 0; i < loin.stations.size(); ++i) {
        const station& s = loin.stations[i];
        const std::string where = "stations[" + std::to_string(i) + "].";
        list.size(where + "width", s.width, detail::usual_face_width);
        list.size(where + "depth", s.depth, detail::usual_face_depth);
        list.share(where + "depth", s.depth, s.width - s.tail, "the width without the tail",
                   detail::usual_depth_to_width);
        list.share(where + "fat_cover", s.fat_cover, s.depth, "the depth", detail::usual_cover);
        list.share(where + "tail", s.tail, s.width, "the width", detail::usual_tail);
    }
    list.plain("fill", loin.shape.fill, detail::usual_fill);
    list.plain("tail_depth", loin.shape.tail_depth, detail::usual_tail_depth);
    list.size("silverskin", loin.shape.silverskin, detail::usual_silverskin);
    if (loin.gluteus_medius.share_at_end > 0.0) {
        list.plain("gluteus_medius.share_at_end", loin.gluteus_medius.share_at_end, detail::usual_share_at_end);
        list.share("gluteus_medius.onset", loin.gluteus_medius.onset, loin.length, "the length", detail::usual_onset);
    }
    return list.doubts;
}

/// What the scale says of a loin that was measured: "The scale says 6 % more than the measurements: 5.2 kg for 4.9 kg.", in whole
/// per cent and so in words alone where both agree to less than half a per cent. Beyond 10 per cent (common practice, no
/// source) it asks to check both. Of tape readings it gives the fill that would explain it, as `calibrate` finds it.
/// `scale_weight` is above zero, or `invalid_input` is thrown, as by `tabulate`. Cost: less than one tabulation.
template <loin_model Model>
[[nodiscard]] sentence scale_against_tape(const Model& model, mass scale_weight,
                                          const tissue_densities& densities = densities_at_4_celsius()) {
    detail::require_positive(scale_weight, "scale weight");
    const detail::open_mass modelled = detail::open_mass_of(model, default_step, densities);
    const mass measured = modelled.with(1.0);
    detail::require_positive(measured, "mass of the model");
    const double factor = scale_weight / measured, per_cent = std::round(100.0 * (factor - 1.0));
    sentence says = per_cent == 0.0 ? sentence("The scale agrees with the measurements: ")
                                    : sentence("The scale says ") + detail::shown(std::abs(per_cent)) + " % " +
                                          (per_cent > 0.0 ? "more" : "less") + " than the measurements: ";
    says += sentence(scale_weight) + " for " + measured;
    if constexpr (detail::leaves_fill_open<Model>)
        if (per_cent != 0.0)
            says += ", as if the faces filled " + detail::two_decimals(modelled.factor(scale_weight) * model.fill()) +
                    " of width x depth and not " + detail::two_decimals(model.fill());
    says += detail::usual_scale_to_tape.contains(factor) ? "." : "; check the scale, then length, widths and depths.";
    return says;
}

} // namespace tranche
