"""The Lantern Van's system as the form holds it; all figures are invented."""

SPEAKERS = ";".join(
    (
        "door tweeters,tweeter,2,1,4,80,,91,2500,2,,,front,1,4.5",
        "door mid-basses,mid-bass,2,1,4,80,50,91,70,2,4500,,front,1.4,5.5",
        "woofers,woofer,2,2,4,120,,88,,2,120,,woofer,2.2,2",
    )
)
NETWORKS = "door tweeters,door mid-basses,3500,butterworth,2"
HEAD_FILTERS = (
    "front,high-pass,60/80/100/120,1,butterworth,2,,yes;"
    "woofer,low-pass,60/80/100/120,1,butterworth,2,,yes"
)
AMPLIFIER = ",".join(
    (
        "Hazel 4-50,4,50,75,,,2,14.4,no,,d,80,12,25",
        "0.2,5,1,12,yes,yes,no,0.02",
        "yes,12,no,screw,260,180,52,signal+controls,none,power+speaker,none,none,3.1,",
        "1/2 high-pass 50-250 1 butterworth 2 A yes | 1/2 low-pass 50-250 1 butterworth 2 A yes | "
        "3/4 high-pass 50-250 1 butterworth 2 B yes | 3/4 low-pass 50-250 1 butterworth 2 B yes",
        "",
    )
)
