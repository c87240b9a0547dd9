package joint

// placesHeadVJoint says where cheeks and shoulders stand off: cheeks from face
// to back and from mouth to tip, shoulders from face to back, along which they
// turn.
func placesHeadVJoint(p, q Values) map[string]Place {
	var m vMade
	out := make(map[string]Place, len(m.mates))
	if trouble := makeVJoint(p, q, &m); trouble != "" {
		return out
	}
	depth := split{along: m.frame.up, low: "back", high: "face"}
	length := split{along: m.frame.along, low: "mouth", high: "tip"}
	for i, id := range [...]string{"near_cheek", "far_cheek", "near_shoulder", "far_shoulder"} {
		mate := m.mates[i]
		switch {
		case len(mate.face) < 3:
		case i < 2:
			out[id] = mate.place(depth, length)
		default:
			out[id] = mate.place(depth)
		}
	}
	return out
}
