//! Prices, currencies, costs and overhead.

rules! {
    asking_after_handover,
    asking_without_currency,
    cost_said_twice,
    cost_without_amount,
    costs_without_price,
    overhead_twice,
    sold_below_cost,
    tin_share_above_one,
    unsound_currency,
}
