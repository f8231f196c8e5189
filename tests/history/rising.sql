-- Cylinders whose own loss rose from the first test to the last by more than the gauges leave in doubt,
-- the steepest rise per year first.
select
    engine,
    cylinder,
    min(tested_on) as first_test,
    max(tested_on) as last_test,
    arg_min(net_loss_percent, tested_at) as first_percent,
    arg_max(net_loss_percent, tested_at) as last_percent,
    round((last_percent - first_percent) / (date_diff('day', first_test, last_test) / 365.25), 1) as points_per_year
from 'losses.parquet'
where net_loss_percent is not null and not cold
group by engine, cylinders, cylinder
having arg_max(net_loss_percent_low, tested_at) > arg_min(net_loss_percent_high, tested_at)
order by points_per_year desc;
