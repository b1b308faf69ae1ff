"""The Lantern Van's system as the form holds it; all figures are invented."""

NAME = "lantern-van"
SPEAKERS = ";".join(
    (
        "door tweeters,tweeter,2,1,4,80,,91,2500,2,,,front,1,4.5,,",
        "door mid-basses,mid-bass,2,1,4,80,50,91,70,2,4500,,front,1.4,5.5,,",
        "subs,woofer,2,2,4,120,,88,,2,120,,sub,2.2,2,sealed,",
    )
)
NETWORKS = "door tweeters,door mid-basses,3500,butterworth,2"
HEAD_FILTERS = (
    "front,high-pass,60/80/100/120,1,butterworth,2,,yes;"
    "sub,low-pass,60/80/100/120,1,butterworth,2,,yes"
)
AMPLIFIER = ",".join(
    (
        "Hazel 4-50,4,50,75,,,2,14.4,no,,d,80,12,25",
        "0.2,5,1,12,yes,yes,no,0.02",
        "yes,12,no,screw,260,180,52,signal+controls,none,power+speaker,none,none,3.1,",
        "1/2 high-pass 50-250 1 butterworth 2 A yes | 1/2 low-pass 50-250 1 butterworth 2 A yes | "
        "3/4 high-pass 50-250 1 butterworth 2 B yes | 3/4 low-pass 50-250 1 butterworth 2 B yes",
        ",yes",
    )
)
SHELF = """\
name,channels,power_4ohm_w,power_2ohm_w,min_channel_ohm,rated_v,regulated,amplifier_class,\
efficiency_percent,idle_w,fuses_a,sensitivity_min_v,sensitivity_max_v,high_level_min_v,\
high_level_max_v,trigger,signal_sensing,supply_sensing,quiescent_a,level_control,boost_db,cover,\
terminals,width_mm,depth_mm,height_mm,front_face,right_face,back_face,left_face,top_face,mass_kg,\
filters,price,may_be_bridged
Hazel 4-50,4,50,75,2,14.4,no,d,80,12,25,0.2,5,1,12,yes,yes,no,0.02,yes,12,no,screw,260,180,52,\
signal+controls,none,power+speaker,none,none,3.1,\
1/2 high-pass 50-250 1 butterworth 2 A yes | 1/2 low-pass 50-250 1 butterworth 2 A yes | \
3/4 high-pass 50-250 1 butterworth 2 B yes | 3/4 low-pass 50-250 1 butterworth 2 B yes,180,yes
Rowan 4-75,4,75,110,2,14.4,no,ab,58,18,25/25,0.2,6,,,yes,no,no,0.01,no,0,yes,screw,330,200,55,\
signal+controls,none,power+speaker,none,none,4.4,\
1/2 high-pass 40-400 1 butterworth 2 A yes | 1/2 low-pass 40-400 1 butterworth 2 A yes | \
3/4 high-pass 40-400 1 butterworth 2 B yes | 3/4 low-pass 40-400 1 butterworth 2 B yes,240,yes
Linden 4-100 compact,4,100,,2,14.4,yes,d,82,14,40,0.3,8,2,16,yes,yes,yes,0.02,yes,18,yes,plug,\
210,110,46,none,signal+controls,none,power+speaker,none,1.9,\
1/2 high-pass 50-500 1 butterworth 2 A yes | 1/2 low-pass 50-500 1 butterworth 2 A yes | \
3/4 high-pass 50-500 1 butterworth 2 B yes | 3/4 low-pass 30-200 1 butterworth 4 B yes,320,yes
Elm 4-60 active,4,60,85,2,14.4,no,d,81,13,25,0.2,4,1,14,yes,yes,no,0.03,no,0,no,plug,\
240,150,50,power+speaker+signal+controls,none,none,none,none,2.6,\
1/2 high-pass 20-20000 1 linkwitz-riley 2/4 - yes | 1/2 low-pass 20-20000 1 linkwitz-riley 2/4 - \
yes | 3/4 high-pass 20-20000 1 linkwitz-riley 2/4 - yes | \
3/4 low-pass 20-20000 1 linkwitz-riley 2/4 - yes,350,yes
"""
