// What a cut sheet says of a study of its loins, key by key.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/document/field_visitor.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

template <class = when_called>
TRANCHE_COLD void study_fields(field_visitor& io, sheet_study& study) {
    const sheet_study otherwise;
    std::optional<std::int64_t> loins = study.loins == otherwise.loins ? std::nullopt : std::optional(study.loins);
    io.whole_number<std::int64_t>("loins", loins, 50, 100'000);
    study.loins = loins.value_or(otherwise.loins);
    io.value("sure", study.sure, otherwise.sure);
    io.check({{"", "sure"}}, [&] {
        if (!(study.sure > 0.0 && study.sure < 1.0))
            throw invalid_input("", shown(study.sure), "a share above 0, below 100 %");
    });
    io.value("knife", study.knife, otherwise.knife);
    io.check({{"", "knife"}}, [&] { require_not_negative(study.knife, ""); });
    io.choice<bool>("follow", study.by_marks, {{"thickness", false}, {"marks", true}}, false);
    io.choice<bool>("plan", study.plan_once, {{"each", false}, {"once", true}}, false);
    io.choice<bool>("vary", study.stated_only, {{"kind", false}, {"stated", true}}, false);
    for (const auto& [key, spread] :
         {std::pair("weight spread", &study.weight_spread), std::pair("length spread", &study.length_spread),
          std::pair("depth spread", &study.depth_spread), std::pair("fat cover spread", &study.fat_cover_spread),
          std::pair("tail spread", &study.tail_spread), std::pair("price spread", &study.price_spread),
          std::pair("worth spread", &study.worth_spread)}) {
        io.value(key, *spread);
        io.check({{"", std::string(key)}}, [&, of = spread] {
            if (*of && !(**of >= 0.0 && **of <= 0.5)) throw invalid_input("", shown(**of), "a share, 0 to 50 %");
        });
    }
    io.value("fat left spread", study.fat_left_spread, otherwise.fat_left_spread);
    io.check({{"", "fat left spread"}}, [&] { require_not_negative(study.fat_left_spread, ""); });
}

} // namespace tranche::detail
