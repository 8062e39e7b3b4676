// Package answer works a case out: from the text of a case to its result, and from
// there to the report, the figures, the setup sheet, the plan of a refit, the ranking
// of kits, the draws of errors and the records. Commands and the page ask it the same
// questions and get the same answers.
//
// It knows neither flags nor places of files: who asks says where a kit's text comes
// from and what becomes of an answer.
package answer
