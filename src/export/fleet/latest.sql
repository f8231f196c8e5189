create or replace temp view latest as
select * from (
  select *, row_number() over (partition by job, engine, cylinder order by revision desc) as back
  from fleet
) as written
where back = 1
