"""The schedule of circuits: what the shop keeps as `circuits.xlsx`, with the columns by our names.

The mill, DP-1/19,21,23, is there already; its first conductors were drawn out, and their row was left in the schedule.
"""

import csv
import io

TABLE = """\
circuit,from,to,service,cable,diameter_mm,count,awg_kcmil,cores,conductor,insulation,voltage_v,ambient_c,loaded_conductors,sets,design_current_a,device_rating_a,device,state,route,remarks
"DP-1/1,3,5",DP-1,MO-01,power,thhn-6,,3,6,1,copper,THHN,208,30,3,1,22,30,circuit breaker,new,,
"DP-1/1,3,5",DP-1,MO-01,power,thhn-10,,1,10,1,copper,THHN,208,30,3,1,22,30,circuit breaker,new,,
"DP-1/2,4,6",DP-1,MO-02,power,thhn-4,,3,4,1,copper,THHN,208,30,3,1,28,35,circuit breaker,new,,
"DP-1/2,4,6",DP-1,MO-02,power,thhn-10,,1,10,1,copper,THHN,208,30,3,1,28,35,circuit breaker,new,,
"DP-1/7,9,11",,,power,thhn-8,,3,8,1,copper,THHN,208,30,3,1,14,20,circuit breaker,new,,
"DP-1/7,9,11",,,power,thhn-12,,1,12,1,copper,THHN,208,30,3,1,14,20,circuit breaker,new,,
"DP-1/8,10,12",DP-1,MO-04,power,thhn-6,,3,6,1,copper,THHN,208,30,3,1,24,30,circuit breaker,new,,
"DP-1/8,10,12",DP-1,MO-04,power,thhn-10,,1,10,1,copper,THHN,208,30,3,1,24,30,circuit breaker,new,,
"DP-1/13,15,17",,,power,thhn-4,,3,4,1,copper,THHN,208,30,3,1,27,35,circuit breaker,new,,
"DP-1/13,15,17",,,power,thhn-10,,1,10,1,copper,THHN,208,30,3,1,27,35,circuit breaker,new,,
"DP-1/14,16,18",DP-1,MO-06,power,thhn-8,,3,8,1,copper,THHN,208,30,3,1,12,20,circuit breaker,new,,
"DP-1/14,16,18",DP-1,MO-06,power,thhn-12,,1,12,1,copper,THHN,208,30,3,1,12,20,circuit breaker,new,,
"DP-1/19,21,23",,,power,thhn-8,,3,8,1,copper,THHN,208,30,3,1,11,20,circuit breaker,existing,,new conductors when the mill was moved
"DP-1/19,21,23",,,power,thhn-12,,1,12,1,copper,THHN,208,30,3,1,11,20,circuit breaker,existing,,
"DP-1/19,21,23",,,power,thhn-10,,3,10,1,copper,THHN,208,30,3,1,11,20,circuit breaker,removed,,
"DP-1/20,22,24",DP-1,MO-08,power,thhn-10,,4,10,1,copper,THHN,208,30,3,1,20,30,circuit breaker,new,,
"DP-1/25,27,29",DP-1,MO-09,power,thhn-12,,4,12,1,copper,THHN,208,30,3,1,10,20,circuit breaker,new,,
"DP-1/26,28,30",DP-1,MO-10,power,thhn-12,,4,12,1,copper,THHN,208,30,3,1,6,15,circuit breaker,new,,
"DP-1/31,33,35",,,power,thhn-8,,3,8,1,copper,THHN,208,30,3,1,15,20,circuit breaker,new,,
"DP-1/31,33,35",,,power,thhn-12,,1,12,1,copper,THHN,208,30,3,1,15,20,circuit breaker,new,,
"DP-1/32,34,36",DP-1,MO-12,power,thhn-12,,4,12,1,copper,THHN,208,30,3,1,8,20,circuit breaker,new,,
LP-1/1,,,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,12,20,circuit breaker,new,,
LP-1/3,LP-1,RO-2,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,12,20,circuit breaker,new,,
LP-1/5,LP-1,RO-3,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,10,20,circuit breaker,new,,
LP-1/7,LP-1,RO-4,power,thhn-12,,3,12,1,copper,THHN,120,,2,1,10,20,circuit breaker,new,,
LP-1-9,,,power,thhn-10,,3,10,1,copper,THHN,120,30,2,1,14,20,circuit breaker,new,,
LP-1/11,LP-1,RO-6,power,thhn-10,,3,10,1,copper,THHN,120,30,2,1,14,20,circuit breaker,new,,
LP-1/13,LP-1,RO-7,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,10,20,circuit breaker,new,,
LP-1/15,LP-1,RO-8,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,10,20,circuit breaker,new,,
LP-1/17,LP-1,RO-9,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,10,20,circuit breaker,new,,
LP-1/2,LP-1,LF-1,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,8,15,circuit breaker,new,,
LP-1/4,LP-1,LF-2,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,8,15,circuit breaker,new,,
LP-1 6,,,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,6,15,circuit breaker,new,,
LP-1/8,,,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,9,15,circuit breaker,new,,
LP-1/10,LP-1,LF-5,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,7,15,circuit breaker,new,,
38,,,power,thhn-8,,3,8,1,copper,THHN,120,30,2,1,5,15,circuit breaker,new,,thicker for its length
LP-1/19,LP-1,RO-9,power,thhn-12,,3,12,1,copper,THHN,120,30,2,1,10,20,circuit breaker,removed,,
F-1,DP-1,LP-1,power,thhn-3/0,,4,3/0,1,copper,THHN,208,30,3,1,150,200,circuit breaker,new,FD-01,
F-1,DP-1,LP-1,power,thhn-6,,1,6,1,copper,THHN,208,30,3,1,150,200,circuit breaker,new,FD-01,
FA-1,FACP,DET-1,fire-alarm,thhn-14,,2,14,1,copper,THHN,24,30,2,1,1,5,fuse,new,,
FA-2,FACP,HORN-1,fire-alarm,thhn-14,,2,14,1,copper,THHN,24,30,2,1,1.5,5,fuse,new,,
DA-1,RACK-1,WO-1,data,,6.2,24,,8,,,,,0,1,,,,new,,
DA-2,RACK-1,WO-2,data,,6.2,12,,8,,,,,0,1,,,,new,,
DA-3,RACK-1,WO-3,data,,6.2,36,,8,,,,,0,1,,,,new,,
"DP-2/1,3,5",DP-2,SO-1,power,,41,1,1/0,4,copper,XHHW,208,30,3,1,115,150,circuit breaker,new,,
"DP-2/2,4,6",DP-2,SO-2,power,,41,1,1/0,4,copper,XHHW,208,30,3,1,95,125,circuit breaker,new,,
"DP-2/7,9,11",DP-2,SO-3,power,,31,1,2,4,copper,XHHW,208,30,3,1,70,90,circuit breaker,new,,
"DP-2/8,10,12",DP-2,SO-1,power,,41,1,1/0,4,copper,XHHW,208,30,3,1,,150,circuit breaker,spare,,
"""

ROWS: tuple[dict[str, str], ...] = tuple(csv.DictReader(io.StringIO(TABLE)))
"""A row for each kind of cable in a circuit; all cells are texts, empty where nothing is said."""
