package document
