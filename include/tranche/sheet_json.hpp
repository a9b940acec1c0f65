// Cut sheets and their answers as JSON. Needs nlohmann's JSON library, which nothing else here does.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/sheet/answer_json.hpp>
#include <tranche/sheet/sheet_json.hpp>
