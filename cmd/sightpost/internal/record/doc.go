// Package record keeps assessments: what was measured, how the mount was set and
// how the screen fared, each as one dated, plain YAML file that is never changed.
//
//	FOLDER/CODE/2026-11-25.yaml
//	FOLDER/CODE/2026-11-25-2.yaml    a second one on that day
//
// CODE is the clinic's code for the person; nothing else tells whose record it is.
// A file can be read with any editor, copied, backed up and handed on by itself. It
// holds the case and its kit word for word, so that it can be solved again, and
// ends with the SHA-256 of all lines above its last.
//
// A record is written into a file of another name, brought to the disk, and only
// then given its name, by a link that fails if the name is taken. Whatever happens
// meanwhile, a name thus stands for a whole record or for none, and for the same
// one for ever. A lock keeps the writers of one code apart.
//
// The folder itself may be reached through a link, as it is the clinic's choice;
// below it links are refused and everything is opened within it ([os.Root]).
package record
