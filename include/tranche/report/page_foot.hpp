// What stands at the foot of a page: when it was made, and of what.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>

namespace tranche {

/// The library reads no clock and knows no file: who makes a page says so. Beside it stands the version of the library.
struct page_foot {
    std::string date{};  ///< as it is to be read, such as "2026-03-14"; may be empty
    std::string sheet{}; ///< what the page was made of, such as the name and date of a cut sheet; may be empty

    friend bool operator==(const page_foot&, const page_foot&) = default;
};

} // namespace tranche
