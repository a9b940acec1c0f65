// Orders over many loins as JSON. Needs nlohmann's JSON library, which nothing else here does.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/report/orders/order_json.hpp>
