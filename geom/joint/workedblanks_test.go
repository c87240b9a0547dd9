package joint

// The blanks of the lessons' worked examples.
var (
	workedThrough = Values{
		"width": 147, "tails": 3, "pin": 5.5, "half_pin": 9, "slope": 7, "tail_thickness": 13, "pin_thickness": 15.5,
	}
	workedLapped = Values{
		"width": 125, "tails": 3, "pin": 7, "half_pin": 8.5, "slope": 6, "tail_thickness": 11.5, "pin_thickness": 21, "lap": 5,
	}
	workedLap   = Values{"width_a": 58, "width_b": 44, "thickness": 23, "crossing_angle": 62}
	workedTenon = Values{"front_width": 440, "back_width": 350, "depth": 370, "leg": 36, "rail_thickness": 21}
	workedScarf = Values{"thickness": 24, "width": 71, "head_angle": 10.5, "kerf": 1.6, "head_thickness": 15}
)
