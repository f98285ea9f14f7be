-- What is asked of a lesson but for its page, which lies before the rest of its row: to read past a page takes as long as to
-- read it.
CREATE INDEX lessons_in_short ON lessons (id, analysis_id, drafted_at, approved_at, sent_at);
DROP INDEX lessons_by_analysis;
CREATE INDEX lessons_by_analysis ON lessons (analysis_id, drafted_at, approved_at, sent_at);
