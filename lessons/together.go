package lessons

// checkTogether finds the faults that show only among all modules: ids given
// twice, needs and links that lead nowhere, modules that need each other.
// Modules of beside, nil for none, may be led to where no page has their id.
func checkTogether(pages []*page, beside *Library) {
	byID := map[string]*page{}
	exercises := map[string]*exerciseBlock{}
	names := map[string]string{}
	var ids []string
	for _, p := range pages {
		if first := byID[p.module.ID]; first != nil && p.module.ID != "" {
			p.fault(2, "the module's id %s is taken by %s", p.module.ID, first.file)
		} else {
			byID[p.module.ID] = p
			ids = append(ids, p.module.ID)
		}
		p.shareExercises(exercises)
		p.shareSkills(names)
	}
	for _, p := range standIns(beside) {
		if byID[p.module.ID] == nil {
			byID[p.module.ID] = p
			ids = append(ids, p.module.ID)
		}
	}
	for _, p := range pages {
		p.checkNeeds(byID, ids)
		p.checkLinksOut(byID, ids)
	}
}

// shareExercises finds exercise ids that another module has.
func (p *page) shareExercises(all map[string]*exerciseBlock) {
	for _, b := range p.exercises {
		if first := all[b.exercise.ID]; first != nil && first.file != p.file {
			p.fault(b.line, "the exercise id %s is taken by %s, line %d", b.exercise.ID, first.file, first.line)
			continue
		}
		all[b.exercise.ID] = b
	}
}

// shareSkills makes sure that a skill has one name in all modules.
func (p *page) shareSkills(names map[string]string) {
	for i, s := range p.module.Skills {
		if name, known := names[s.ID]; known && name != s.Name {
			p.fault(p.skillLines[i], "the skill %s is called “%s” here and “%s” in another module", s.ID, s.Name, name)
		}
		names[s.ID] = s.Name
	}
}

func (p *page) checkNeeds(byID map[string]*page, ids []string) {
	for _, n := range p.needs {
		other := byID[n.id]
		switch {
		case other == nil:
			p.fault(n.line, "needs the module %s, which does not exist%s", n.id, suggestion(n.id, ids))
		case leads(other, p, byID, map[*page]bool{}):
			p.fault(n.line, "needs the module %s, which needs this one", n.id)
		}
	}
}

// leads says whether the needs of one page come to another.
func leads(from, to *page, byID map[string]*page, seen map[*page]bool) bool {
	if from == to {
		return true
	}
	if from == nil || seen[from] {
		return false
	}
	seen[from] = true
	for _, n := range from.needs {
		if leads(byID[n.id], to, byID, seen) {
			return true
		}
	}
	return false
}

func (p *page) checkLinksOut(byID map[string]*page, ids []string) {
	for _, l := range p.links {
		if l.module == "" {
			continue
		}
		other := byID[l.module]
		if other == nil {
			p.fault(l.line, "the link goes to the module %s, which does not exist%s", l.module, suggestion(l.module, ids))
			continue
		}
		if other.ids[l.section] == 0 && l.section != "" {
			p.fault(l.line, "the module %s has no section #%s%s", l.module, l.section, suggestion(l.section, other.ownIDs()))
		}
	}
}
