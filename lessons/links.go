package lessons

import (
	"net/url"
	"regexp"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
)

// link is a link to a section or a module, to be checked when all are known.
type link struct {
	module, section string // module "" is this page
	line            int
}

// addLink sorts a link: within the page (#section), to a module (id or
// id#section), or to an address outside. A link that is refused leads nowhere,
// even where the fault is not heeded.
func (p *page) addLink(n *ast.Link, to string, line int) {
	module, section, _ := strings.Cut(to, "#")
	n.Destination = nil
	switch {
	case to == "":
		p.fault(line, "the link goes nowhere")
	case strings.ContainsAny(module, ":/?"):
		if p.addAddress(to, line) {
			n.Destination = []byte(to)
			n.SetAttributeString("rel", []byte("noreferrer"))
		}
	case module != "" && !slugPattern.MatchString(module):
		p.fault(line, "the link goes to %q: write #section, another module's id, or an address that begins with https://", to)
	default:
		n.Destination = []byte(to)
		if module != "" {
			n.Destination = []byte(p.lessons + to)
		}
		if at, err := url.PathUnescape(section); err == nil {
			section = at
		}
		p.links = append(p.links, link{module, section, line})
	}
}

// addAddress allows the addresses that a link may leave the site by.
func (p *page) addAddress(to string, line int) bool {
	u, err := url.Parse(to)
	if err == nil && (u.Scheme == "https" || u.Scheme == "http") && u.Host != "" || err == nil && u.Scheme == "mailto" {
		return true
	}
	if strings.Contains(to, "@") && !strings.ContainsAny(to, ":/") {
		return true // an e-mail address between angle brackets
	}
	p.fault(line, "the link goes to %q: write #section, another module's id, or an address that begins with https://", to)
	return false
}

// pictureName is a picture in the module's own folder.
var pictureName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]*\.(png|jpg|jpeg|webp)$`)

// addPicture checks a picture and makes its address the page's own. One that
// is refused loses its address, so that nothing is fetched from elsewhere.
func (p *page) addPicture(whole *part, n *ast.Image, line int) {
	name := string(n.Destination)
	if plain(whole.src.text, n) == "" {
		p.fault(line, "the picture %s has no text for people who do not see it: write ![what it shows](%s)", name, name)
	}
	n.Destination = nil
	if !pictureName.MatchString(name) {
		p.fault(line, "%q is not a picture in the module's folder (.png, .jpg or .webp)", name)
		return
	}
	address, ok := p.picture(name)
	switch {
	case !ok:
		p.fault(line, "there is no picture %s in the module's folder", name)
	default:
		n.Destination = []byte(address)
		if !slices.Contains(p.module.Pictures, name) {
			p.module.Pictures = append(p.module.Pictures, name)
		}
	}
}

// checkLinksWithin checks the links to sections of the same page.
func (p *page) checkLinksWithin() {
	for _, l := range p.links {
		if l.module != "" {
			continue
		}
		if p.ids[l.section] == 0 {
			p.fault(l.line, "there is no section #%s on this page%s", l.section, suggestion(l.section, p.ownIDs()))
		}
	}
}

// ownIDs lists the ids that the lesson itself gives.
func (p *page) ownIDs() []string {
	return slices.DeleteFunc(sortedKeys(p.ids), func(id string) bool { return p.ids[id] == 0 })
}
