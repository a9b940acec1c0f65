// Reads cut sheets in JSON for all programs: compiled once, and only where nlohmann's JSON library is found.
// SPDX-License-Identifier: BSL-1.0
#include "../sheet_file.hpp"

#include <tranche/sheet/sheet_json.hpp>

tranche::cut_sheet example::sheet_from_json(std::string_view text) { return tranche::sheet_from_json(text); }
