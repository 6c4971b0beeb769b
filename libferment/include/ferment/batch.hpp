#pragma once
// A whole batch: planned from sacks to bottles in one call, and the ledger of where its alcohol went.

#include <ferment/batch/ledger.hpp>
#include <ferment/batch/plan.hpp>
#include <ferment/batch/plans.hpp>
