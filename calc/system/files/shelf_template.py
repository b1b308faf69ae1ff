"""A stock list to start from: the plain columns, and two invented amplifiers."""

# No cell that a spreadsheet would take for a date, as it takes 12/24 or 25/25: several fuses are
# written as 2x25.
TEMPLATE = """\
name,channels,power_4ohm_w,power_2ohm_w,rated_bridged_w,min_channel_ohm,amplifier_class,fuses_a,\
sensitivity_min_v,sensitivity_max_v,high_level_min_v,high_level_max_v,trigger,signal_sensing,\
level_control,width_mm,depth_mm,height_mm,high_pass_hz,low_pass_hz,filter_db_per_octave,price
Sample A (replace me),4,60,90,180,2,d,30,0.2,6,1,12,yes,yes,yes,210,120,46,50-250,50-250,12,220
Sample B (replace me),4,100,,280,2,ab,2x25,0.25,5,,,yes,no,no,330,200,55,40-400,40-400,12,260
"""
NAME = "stock-list.csv"
