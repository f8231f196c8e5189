select case
    when net_loss_percent < 10 then 'under 10 %'
    when net_loss_percent < 20 then '10 to 20 %'
    when net_loss_percent < 40 then '20 to 40 %'
    else '40 % and over'
  end as cylinder_loses,
  count(*) as cylinders,
  round(100.0 * avg(case when call = 'located' then 1 else 0 end), 1) as located_percent,
  round(100.0 * avg(case when call = 'none-heard' then 1 else 0 end), 1) as none_heard_percent,
  count(found_path) as opened,
  round(100.0 * avg(case when found_path is null then null when found_path = said_path then 1 else 0 end), 1) as right_percent
from latest
where call is not null and net_loss_percent is not null
group by 1
order by min(net_loss_percent)
