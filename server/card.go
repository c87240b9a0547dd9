package server

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strconv"

	"github.com/labstack/echo/v4"
	"golang.org/x/sync/errgroup"

	"arrisbook/server/store"
)

var cardRoutes = []route{
	{http.MethodGet, "/classes/:class/cards", forInstructors, (*server).getCards},
	{http.MethodGet, "/classes/:class/cards/again", forInstructors, (*server).getCardsAgain},
	{http.MethodPost, "/classes/:class/cards", forInstructors, (*server).postCards},
}

// cardsPage says who has a card and offers to print.
type cardsPage struct {
	Frame
	Heading, Lead string
	Href          string
	RosterHref    string
	Without       int
	Choose        bool
	Action        cardsAction // for those without a card
	Students      []cardLine
	Fault         string
	NobodyReaches string // the address on the cards, when no phone can follow it
}

type cardLine struct {
	No, Bench    int
	Name         string
	Card, Chosen bool
}

// cardsAction is what the form of a button sends.
type cardsAction struct {
	Href   string
	Nos    []int
	Print  string // names the state that was looked at
	Button string
	Back   string
}

// cardsAgainPage asks before old cards die.
type cardsAgainPage struct {
	Frame
	Heading, Lead string
	Action        cardsAction
	Students      []cardLine
	NobodyReaches string
}

// cardSheetPage is the page to be printed. The codes on it are nowhere else.
type cardSheetPage struct {
	Frame
	Heading   string
	Href      string
	ClassName string
	ClassCode string
	Address   string // where codes are typed, without the scheme
	Cards     []printedCard
	Pages     string
}

// printedCard is one card in clear.
type printedCard struct {
	Name  string
	Bench int
	Code  string // in groups
	QR    template.HTML
}

// drawnCard is a card before it is issued.
type drawnCard struct {
	Student     store.Student
	Code, Token string
	store.NewCard
}

func (s *server) getCards(c echo.Context) error {
	page, err := s.cardsPage(c)
	if err != nil {
		return err
	}
	return s.show(c, "cards", &page.Frame, &page)
}

func (s *server) cardsPage(c echo.Context) (cardsPage, error) {
	class := where(c).Class
	students, err := s.store.Students(c.Request().Context(), class.ID)
	page := cardsPage{Frame: s.classFrame(c, "Cards"), Href: classHref(class) + "/cards", RosterHref: classHref(class) + "/roster", NobodyReaches: s.nobodyReaches(c)}
	if err != nil {
		return page, err
	}
	var without []store.Student
	for _, st := range students {
		page.Students = append(page.Students, cardLine{No: st.No, Bench: st.Bench, Name: st.Name, Card: st.Card > 0})
		if st.Card == 0 {
			without = append(without, st)
		}
	}
	page.Without, page.Choose = len(without), len(without) < len(students)
	page.Action = cardsActionFor(class, without)
	switch {
	case len(students) == 0:
		page.Heading, page.Lead = "Nobody is on the roster yet", "Cards are made for those on the roster."
	case len(without) == 0:
		page.Heading = "Everybody has a card"
		page.Lead = "A lost card is ended by printing a new one."
	case len(without) == len(students):
		page.Heading = upperFirst(counted(len(students), "card", "cards")) + " to print"
		page.Lead = "A card has a code to type and a square to point a phone at. Eight fit on a page."
	default:
		page.Heading = upperFirst(counted(len(without), "student has", "students have")) + " no card"
		page.Lead = "The others keep theirs."
	}
	return page, nil
}

// nobodyReaches is the address that the cards would carry, when it works on
// this machine only.
func (s *server) nobodyReaches(c echo.Context) string {
	if address := s.publicURL(c); reachesNobody(address) {
		return address
	}
	return ""
}

func cardsActionFor(class store.Class, students []store.Student) cardsAction {
	a := cardsAction{Href: classHref(class) + "/cards", Print: cardsPrint(students), Back: classHref(class) + "/cards"}
	a.Button = fmt.Sprintf("Make %s and show the page", count(len(students), "card"))
	for _, st := range students {
		a.Nos = append(a.Nos, st.No)
	}
	return a
}

// cardsPrint names who was chosen and which card each of them had, so that a
// form pressed twice issues once.
func cardsPrint(students []store.Student) string {
	sum := sha256.New()
	for _, st := range students {
		fmt.Fprintln(sum, st.No, st.Card)
	}
	return hex.EncodeToString(sum.Sum(nil)[:12])
}

// chosenStudents are those on the roster whom the form names.
func (s *server) chosenStudents(c echo.Context) ([]store.Student, error) {
	students, err := s.store.Students(c.Request().Context(), where(c).Class.ID)
	if err != nil {
		return nil, err
	}
	if c.FormValue("who") == "all" {
		return students, nil
	}
	params, err := c.FormParams()
	if err != nil {
		return nil, echo.NewHTTPError(http.StatusBadRequest)
	}
	return slices.DeleteFunc(students, func(st store.Student) bool {
		return !slices.Contains(params["student"], strconv.Itoa(st.No))
	}), nil
}

// getCardsAgain says how many old cards a printing ends.
func (s *server) getCardsAgain(c echo.Context) error {
	students, err := s.chosenStudents(c)
	if err != nil {
		return err
	}
	if len(students) == 0 {
		page, err := s.cardsPage(c)
		if err != nil {
			return err
		}
		page.Fault = "Choose at least one student."
		return s.render(c, http.StatusUnprocessableEntity, "cards", &page)
	}
	class := where(c).Class
	page := cardsAgainPage{Frame: s.classFrame(c, "New cards"), Action: cardsActionFor(class, students), NobodyReaches: s.nobodyReaches(c)}
	old := 0
	for _, st := range students {
		page.Students = append(page.Students, cardLine{No: st.No, Bench: st.Bench, Name: st.Name, Card: st.Card > 0})
		if st.Card > 0 {
			old++
		}
	}
	page.Heading = "No old card ends"
	if old > 0 {
		page.Heading = upperFirst(counted(old, "old card ends", "old cards end"))
		page.Lead = "Whoever is signed in with one is signed out at once, and its code and square lead nowhere."
	}
	return s.show(c, "cardsagain", &page.Frame, &page)
}

// postCards issues cards and answers with the page to print: the codes exist
// in clear at this moment only.
func (s *server) postCards(c echo.Context) error {
	class, ctx := where(c).Class, c.Request().Context()
	students, err := s.chosenStudents(c)
	if err != nil {
		return err
	}
	changed := &statusError{
		Status: http.StatusConflict, Heading: "No card was made by this press",
		Sentence: "The roster or the cards have changed since you looked, maybe by a first press of the same button. If its page with the cards is lost, make them again.",
		To:       classHref(class) + "/cards", ToText: "back to the cards",
	}
	if len(students) == 0 || cardsPrint(students) != c.FormValue("print") {
		return changed
	}
	cards, err := s.drawCards(ctx, class, students)
	if err != nil {
		return err
	}
	err = s.issueCards(ctx, class, cards)
	if errors.Is(err, store.ErrChanged) || errors.Is(err, store.ErrTaken) {
		return changed
	}
	if err != nil {
		return err
	}
	s.log.Info("cards issued", "class", class.ID, "staff", who(c).Staff.ID, "cards", len(cards), "request", requestID(c))
	return s.showCards(c, cards)
}

// drawCards draws codes for students and hashes them, as many at once as the
// machine has processors.
func (s *server) drawCards(ctx context.Context, class store.Class, students []store.Student) ([]drawnCard, error) {
	used, err := s.store.CodeHeads(ctx, class.ID)
	if err != nil {
		return nil, err
	}
	cards := make([]drawnCard, len(students))
	hashes, ctx := errgroup.WithContext(ctx)
	for i, st := range students {
		code := newCode(personalCodeLen)
		for slices.Contains(used, code[:codeHeadLen]) {
			code = newCode(personalCodeLen)
		}
		used = append(used, code[:codeHeadLen])
		token, tokenHash := newToken()
		cards[i] = drawnCard{st, code, token, store.NewCard{No: st.No, Was: st.Card, CodeHead: code[:codeHeadLen], TokenHash: tokenHash}}
		hashes.Go(func() (err error) {
			cards[i].CodeHash, err = s.hashing.hash(ctx, code)
			return err
		})
	}
	return cards, hashes.Wait()
}

func (s *server) issueCards(ctx context.Context, class store.Class, cards []drawnCard) error {
	issue := make([]store.NewCard, len(cards))
	for i, card := range cards {
		issue[i] = card.NewCard
	}
	return s.store.IssueCards(ctx, class.ID, issue)
}

func (s *server) showCards(c echo.Context, cards []drawnCard) error {
	class, address := where(c).Class, s.publicURL(c)
	page := cardSheetPage{
		Frame: s.classFrame(c, "Cards to print"), Href: classHref(class) + "/cards", ClassName: class.Name,
		ClassCode: groups(class.Code), Address: bareAddress(address + "/enter"),
		Heading: "Print this page before you leave it",
		Pages:   count((len(cards)+cardsPerPage-1)/cardsPerPage, "page"),
	}
	for _, card := range cards {
		qr, err := qrPicture(address + "/card/" + card.Token)
		if err != nil {
			return err
		}
		page.Cards = append(page.Cards, printedCard{card.Student.Name, card.Student.Bench, groups(card.Code), qr})
	}
	return s.render(c, http.StatusOK, "cardsheet", &page)
}

// cardsPerPage is how many fit on A4 and on Letter alike.
const cardsPerPage = 8
