select yard, year, count(distinct job) as jobs,
  round(avg(rig_loss_percent), 1) as rig_loss_percent, round(max(rig_loss_percent), 1) as worst
from latest
where rig_loss_percent is not null
group by yard, year
order by yard, year
