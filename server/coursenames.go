package server

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"arrisbook/grading"
	"arrisbook/lessons/pack"
	"arrisbook/server/store"
)

// classNames are the names of a class's people, so that none of them goes
// along with its course.
type classNames struct {
	students []string        // whole names, small letters
	words    map[string]bool // every word of every name, of the staff too
}

// namesOf gathers the names of everybody who is or was in a class.
func (s *server) namesOf(ctx context.Context, class store.Class) (classNames, error) {
	n := classNames{words: map[string]bool{}}
	students, err := s.store.Students(ctx, class.ID)
	if err != nil {
		return n, err
	}
	removed, err := s.store.RemovedStudents(ctx, class.ID)
	if err != nil {
		return n, err
	}
	staff, err := s.store.People(ctx, class.ID)
	if err != nil {
		return n, err
	}
	for _, st := range append(students, removed...) {
		n.students = append(n.students, strings.ToLower(st.Name))
		n.learn(st.Name)
	}
	for _, m := range staff {
		n.learn(m.Name)
	}
	return n, nil
}

func (n classNames) learn(name string) {
	for _, w := range wordsOf(name) {
		if len([]rune(w)) > 1 {
			n.words[w] = true
		}
	}
}

// wordsOf are the words of a text in small letters.
func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// inTitle says whether a title names somebody, by any part of a name: titles
// are short, and written with a class in mind.
func (n classNames) inTitle(title string) bool {
	if _, found := n.inText(title); found {
		return true
	}
	return slices.ContainsFunc(wordsOf(title), func(w string) bool { return n.words[w] })
}

// inText finds the first line that holds a student's whole name.
func (n classNames) inText(text string) (line int, found bool) {
	for i, l := range strings.Split(strings.ToLower(text), "\n") {
		for _, name := range n.students {
			if holdsWords(l, name) {
				return i + 1, true
			}
		}
	}
	return 0, false
}

// inModule says where a module names a student; "": nowhere.
func (n classNames) inModule(m pack.Module) string {
	if line, found := n.inText(string(m.Text)); found {
		return fmt.Sprintf("line %d of its text", line)
	}
	if _, found := n.inText(m.Author + "\n" + m.Licence); found {
		return "its author or licence"
	}
	for _, p := range m.Pictures {
		if _, found := n.inText(strings.Join(wordsOf(p.Name), " ")); found {
			return "its picture " + p.Name
		}
	}
	return ""
}

// holdsWords finds a text that is not part of a longer word.
func holdsWords(line, text string) bool {
	for from := 0; ; {
		at := strings.Index(line[from:], text)
		if at < 0 {
			return false
		}
		at += from
		before, after := []rune(line[:at]), []rune(line[at+len(text):])
		if (len(before) == 0 || !unicode.IsLetter(before[len(before)-1])) && (len(after) == 0 || !unicode.IsLetter(after[0])) {
			return true
		}
		from = at + len(text)
	}
}

// givenOutExercise is the exercise of an assignment as it was given out: what
// was corrected since belongs to the class.
func (s *server) givenOutExercise(ctx context.Context, a store.Assignment) (*grading.Exercise, error) {
	a.KeyNo = 0
	return s.exerciseOf(ctx, a)
}
