/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/contract.h"

#include "parameters_farm.h"

#include "turnheat/calendar.h"

#include <math.h>

void th_contract_defaults(struct th_contract *contract, enum th_contract_kind kind)
{
    *contract = (struct th_contract){0};
    th_parameters_start(&th_parameters_contract, contract);
    contract->kind = kind;
}

static bool at_least_zero(double value)
{
    return isfinite(value) && value >= 0.0;
}

static bool is_share(double value)
{
    return at_least_zero(value) && value <= 1.0;
}

static enum th_code check_settlement(const struct th_contract *contract, struct th_error *err)
{
    const bool prepaid_only = contract->settle == TH_SETTLE_ROLL_DOLLARS ||
                              contract->settle == TH_SETTLE_ROLL_GALLONS ||
                              contract->settle == TH_SETTLE_REFUND;
    if (prepaid_only && contract->kind != TH_CONTRACT_PREPAID)
        return th_fail(err, TH_ERR_INPUT,
                       "settle: rolling over and refunds are for prepaid gallons only");
    const bool has_price =
        contract->kind == TH_CONTRACT_PREPAID || contract->kind == TH_CONTRACT_BOOKED;
    if (contract->settle != TH_SETTLE_NONE && !has_price)
        return th_fail(err, TH_ERR_INPUT,
                       "settle: only prepaid and booked gallons have a settlement");
    if (!is_share(contract->take_share))
        return th_fail(err, TH_ERR_RANGE, "take_share must be 0 to 1");
    if (!is_share(contract->refund_fee_share))
        return th_fail(err, TH_ERR_RANGE, "refund_fee_share must be 0 to 1");
    if (!at_least_zero(contract->roll_years))
        return th_fail(err, TH_ERR_RANGE, "roll_years must not be negative");
    return TH_OK;
}

static enum th_code check_window(const struct th_contract *contract, struct th_error *err)
{
    /* 2001 has no 29 February, so a window's ends exist in every year. */
    if (!th_date_valid(2001, contract->from_month, contract->from_day))
        return th_fail(err, TH_ERR_RANGE, "the window's first day does not exist in every year");
    if (!th_date_valid(2001, contract->to_month, contract->to_day))
        return th_fail(err, TH_ERR_RANGE, "the window's last day does not exist in every year");
    return TH_OK;
}

enum th_code th_contract_check(const struct th_contract *contract, struct th_error *err)
{
    const bool spot = contract->kind == TH_CONTRACT_SPOT;
    if (!at_least_zero(contract->volume_gal))
        return th_fail(err, TH_ERR_RANGE, "volume must not be negative");
    if (!at_least_zero(contract->price_usd_gal) || (!spot && contract->price_usd_gal <= 0.0))
        return th_fail(err, TH_ERR_RANGE, "price must be above 0");
    if (!at_least_zero(contract->deposit_usd_gal) ||
        (contract->kind == TH_CONTRACT_BOOKED &&
         contract->deposit_usd_gal > contract->price_usd_gal))
        return th_fail(err, TH_ERR_RANGE, "deposit must be 0 up to the contract price");
    if (!at_least_zero(contract->fee_usd) || !at_least_zero(contract->fee_usd_gal))
        return th_fail(err, TH_ERR_RANGE, "fees must not be negative");
    if (!at_least_zero(contract->carry_rate) || !at_least_zero(contract->carry_days))
        return th_fail(err, TH_ERR_RANGE, "carry_rate and carry_days must not be negative");
    const enum th_code code = check_settlement(contract, err);
    return code ? code : check_window(contract, err);
}
