with course as (
  select yard, engine, cylinder, tested_on, net_loss_percent, net_loss_percent_low,
    first_value(net_loss_percent) over (partition by yard, engine, cylinder order by tested_on) as first_loss,
    first_value(net_loss_percent_high) over (partition by yard, engine, cylinder order by tested_on) as first_high,
    row_number() over (partition by yard, engine, cylinder order by tested_on desc) as back_in_time
  from latest
  where net_loss_percent is not null
)
select yard, engine, cylinder, first_loss, net_loss_percent as last_loss
from course
where back_in_time = 1 and net_loss_percent_low > first_high
order by net_loss_percent - first_loss desc, yard, engine, cylinder
limit 20
