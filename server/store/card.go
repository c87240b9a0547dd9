package store

import (
	"context"

	"github.com/jackc/pgx/v5"
)

// NewCard is a card to be issued. Its codes are known in clear to whoever
// prints it only.
type NewCard struct {
	No int
	// Was is the count of cards that the student had when this was decided.
	Was       int
	CodeHead  string
	CodeHash  string // argon2id of the whole personal code
	TokenHash []byte // SHA-256 of the QR code's token
}

// Holder is the student that a code or link leads to.
type Holder struct {
	Student
	CodeHash string `db:"code_hash"`
}

// CodeHeads gives all heads in use in a class, removed students included.
func (s *Store) CodeHeads(ctx context.Context, classID int64) ([]string, error) {
	rows, err := s.pool.Query(ctx, `SELECT code_head FROM students WHERE class_id = $1 AND code_head IS NOT NULL`, classID)
	if err != nil {
		return nil, fault("code heads", err)
	}
	heads, err := pgx.CollectRows(rows, pgx.RowTo[string])
	return heads, fault("code heads", err)
}

// IssueCards gives students new cards in one transaction; the old ones and
// the sessions started with them are over. ErrChanged: one of the students is
// gone or has got another card in the meantime.
func (s *Store) IssueCards(ctx context.Context, classID int64, cards []NewCard) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		for _, c := range cards {
			tag, err := tx.Exec(ctx, `
				UPDATE students SET code_head = $4, code_hash = $5, token_hash = $6, card = card + 1
				WHERE class_id = $1 AND no = $2 AND card = $3 AND removed_at IS NULL`,
				classID, c.No, c.Was, c.CodeHead, c.CodeHash, c.TokenHash)
			if err != nil {
				return err
			}
			if tag.RowsAffected() == 0 {
				return ErrChanged
			}
		}
		return nil
	})
	return fault("issue cards", err)
}

// HolderByHead finds the student whose personal code begins so, by the code
// of the class.
func (s *Store) HolderByHead(ctx context.Context, classCode, head string) (Holder, error) {
	return one[Holder](ctx, s.pool, "holder of code", `
		SELECT p.class_id, p.no, p.name, p.bench, p.card, p.large_print, p.removed_at, p.code_hash
		FROM students p JOIN classes c ON c.id = p.class_id
		WHERE c.code = $1 AND p.code_head = $2 AND p.removed_at IS NULL`, classCode, head)
}

// HolderByToken finds the student whose card has a link.
func (s *Store) HolderByToken(ctx context.Context, tokenHash []byte) (Holder, error) {
	return one[Holder](ctx, s.pool, "holder of link", `
		SELECT class_id, no, name, bench, card, large_print, removed_at, code_hash FROM students
		WHERE token_hash = $1 AND removed_at IS NULL`, tokenHash)
}
